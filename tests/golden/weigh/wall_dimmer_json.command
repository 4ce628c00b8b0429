weigh examples/wall-dimmer.toml --futures 2000 --format json

weigh examples/wall-dimmer.toml --futures 2000

weigh examples/kitchen-scale.toml --futures 2000

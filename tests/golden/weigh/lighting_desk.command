weigh examples/lighting-desk.toml --futures 2000

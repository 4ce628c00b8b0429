weigh examples/fathers-radio.toml --futures 2000

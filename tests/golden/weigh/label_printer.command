weigh examples/label-printer.toml --futures 2000

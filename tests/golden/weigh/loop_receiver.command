weigh examples/loop-receiver.toml --futures 2000

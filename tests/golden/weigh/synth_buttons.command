weigh examples/synth-buttons.toml --futures 2000

buy examples/stage-metronome.toml --futures 2000 --show all

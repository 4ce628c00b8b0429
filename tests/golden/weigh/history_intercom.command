weigh examples/history/intercom.toml --rates examples/history/rates --futures 2000

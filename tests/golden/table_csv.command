weigh tests/golden/starter.toml --futures 2000 --table sensitivity

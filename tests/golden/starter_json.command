weigh tests/golden/starter.toml --futures 500 --format json

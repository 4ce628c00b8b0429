weigh tests/golden/starter.toml --show hazard

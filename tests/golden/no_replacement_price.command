weigh tests/golden/starter.toml --futures 2000 --set replacement.price=unknown

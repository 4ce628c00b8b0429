weigh tests/golden/starter.toml --futures 2000 --set device.must_keep=true

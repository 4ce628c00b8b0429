weigh tests/golden/starter.toml --set labour.rate=20 --set device.age=3

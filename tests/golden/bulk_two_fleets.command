bulk examples/keypad-fleet.toml --devices 40 --devices 120

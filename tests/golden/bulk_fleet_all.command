bulk examples/keypad-fleet.toml --show all

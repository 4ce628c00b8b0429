bulk examples/keypad-fleet.toml

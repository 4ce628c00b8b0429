quote examples/field-recorder.toml --shop examples/shop.toml --date 2026-03-02 --number Q-0042 --futures 2000 --color never --page shop --show all

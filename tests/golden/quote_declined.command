quote examples/field-recorder.toml --shop examples/shop.toml --date 2026-03-02 --number R-7 --declined --minutes-spent 40 --format markdown

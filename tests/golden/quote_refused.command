quote examples/label-printer.toml --shop examples/shop.toml --date 2026-03-02 --futures 2000

weigh examples/lighting-desk.toml --futures 2000 --set supplier.lead_days=4

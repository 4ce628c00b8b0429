lifetime examples/history/bench-record.csv --group part --at 30000 --show all

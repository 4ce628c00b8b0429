lifetime examples/history/bench-record.csv --group kind --part volume_encoder

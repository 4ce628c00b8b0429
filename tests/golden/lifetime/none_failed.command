lifetime tests/golden/lifetime/none_failed.csv --group kind

lifetime tests/golden/lifetime/no_failures.csv

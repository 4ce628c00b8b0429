lifetime tests/golden/lifetime/bad_rows.csv

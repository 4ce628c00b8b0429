weigh tests/golden/referral.toml --futures 20000 --threads 2 --color never

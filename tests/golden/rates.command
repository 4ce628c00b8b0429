rates

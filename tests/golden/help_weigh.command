weigh --help

bulk --help

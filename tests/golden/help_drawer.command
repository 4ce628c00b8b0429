drawer --help

lifetime --help

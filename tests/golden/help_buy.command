buy --help

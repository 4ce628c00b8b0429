quote --help

rates --show lives,skills

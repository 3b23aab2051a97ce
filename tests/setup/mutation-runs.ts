import fc from 'fast-check'

// Hundreds of mutants meet each test: a few generated cases for each tell what a hundred would.
fc.configureGlobal({ numRuns: 20 })

/** The command line. */
process.exitCode = 2;

/** What a file of this folder exports to be a command. */
export interface Command {
  /** Does the command and returns the exit code. Throws PlainFailure for what the person can mend. */
  run(words: readonly string[]): Promise<number>;
}

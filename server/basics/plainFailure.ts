/**
 * A failure whose message is written for the person at the terminal: what happened, to which thing, what to do.
 * The command line prints the message alone; every other error is a bug and keeps its stack trace.
 */
export class PlainFailure extends Error {
  override readonly name = "PlainFailure";
  /** What the process exits with: 1 for a circumstance, 2 for wrong input. */
  readonly exitCode: 1 | 2;

  constructor(message: string, exitCode: 1 | 2 = 1) {
    super(message);
    this.exitCode = exitCode;
  }
}

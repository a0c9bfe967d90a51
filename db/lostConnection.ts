/**
 * Whether an error that nobody caught comes from the driver's own clean-up after a lost connection, and may be passed
 * over. When Postgres ends a connection in the middle of a transaction, postgres 3.4 first rejects the transaction, as
 * it should, and then still sends its `rollback` (or whatever the transaction asks next) down the socket it has set to
 * null; that throws on a timer, where nobody can catch it. Everything that waited has been told by then, and the
 * transaction is undone by Postgres itself, so ending the whole server would help no one.
 */
export function isDriversFarewell(error: unknown): boolean {
  return (
    error instanceof TypeError &&
    /\bnull\b/.test(error.message) &&
    /\bnextWrite\b[^\n]*[\\/]node_modules[\\/]postgres[\\/]/.test(error.stack ?? "")
  );
}

/**
 * The five-character SQLSTATE of a database error (Postgres manual, appendix A), or undefined for any other error.
 * Drizzle wraps the driver's error and keeps it as `cause`.
 */
export function sqlState(error: unknown): string | undefined {
  if (!(error instanceof Error)) return undefined;
  if ("code" in error && typeof error.code === "string" && /^[0-9A-Z]{5}$/.test(error.code))
    return error.code;
  return sqlState(error.cause);
}

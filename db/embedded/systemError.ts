/** Whether this is the operating system's error of that name, such as ENOENT. */
export function hasCode(error: unknown, code: string): boolean {
  return error instanceof Error && "code" in error && error.code === code;
}

/** What an error says, for a sentence. */
export function reasonOf(error: unknown): string {
  return (error instanceof Error ? error.message || error.name : String(error)).trim();
}

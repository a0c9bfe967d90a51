/** Whether this is the operating system's error of that name, such as ENOENT. */
export function hasCode(error: unknown, code: string): boolean {
  return error instanceof Error && "code" in error && error.code === code;
}

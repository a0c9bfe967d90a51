/** The address of another database on the same server. */
export function databaseNamed(serverUrl: string, name: string): string {
  const url = new URL(serverUrl);
  url.pathname = `/${name}`;
  return url.href;
}

/**
 * Makes something once for each key and keeps it for good: for what is dear to make and never changes, such as a
 * formatter of the language's own. There must be few keys.
 */
export function onceFor<Made>(make: (key: string) => Made): (key: string) => Made {
  const made = new Map<string, Made>();
  return (key) => {
    const known = made.get(key);
    if (known !== undefined) return known;
    const fresh = make(key);
    made.set(key, fresh);
    return fresh;
  };
}

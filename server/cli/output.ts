/** Where a command's answer and its remarks go, a line at a time. */
export interface Output {
  out(text: string): void;
  err(text: string): void;
}

export const consoleOutput: Output = {
  out: (text) => console.log(text),
  err: (text) => console.error(text),
};

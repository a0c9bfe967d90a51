/** What is being done with a file, and how many of its lines it is done with. */
export interface FileProgress {
  readonly doing: "checking" | "taking";
  readonly done: number;
  readonly of: number;
}

/** Tells how far one is, and lets others have their turn: a long file must not hold up the whole server. */
export type Tell = (progress: FileProgress) => Promise<void>;

/** For whoever is not watched: others have their turn all the same. */
export const tellNobody: Tell = () => othersTurn();

/**
 * How far the files are that are being worked on, by the number of the form that brought each; in the memory of this
 * server, as is the work. Another server knows nothing of it, and says nothing.
 */
export class FilesInWork {
  readonly #known = new Map<string, FileProgress>();

  /** @param form "" where nobody will ask. */
  async follow<Value>(form: string, work: (tell: Tell) => Promise<Value>): Promise<Value> {
    try {
      return await work((progress) => {
        if (form !== "") this.#known.set(form, progress);
        return othersTurn();
      });
    } finally {
      this.#known.delete(form);
    }
  }

  progressOf(form: string): FileProgress | null {
    return this.#known.get(form) ?? null;
  }
}

/** Whatever has arrived in the meantime is seen to first. */
function othersTurn(): Promise<void> {
  return new Promise((resolve) => setImmediate(resolve));
}

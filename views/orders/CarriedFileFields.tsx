import type { DateHabit } from "../../server/orders/fileDates.ts";

/** A file that a form brings back: its name, its bytes in base64url, and how it writes dates. */
export interface CarriedFile {
  readonly fileName: string;
  readonly file: string;
  readonly dates: DateHabit;
}

export function CarriedFileFields({ carried }: { readonly carried: CarriedFile }) {
  return (
    <>
      <input type="hidden" name="file_name" value={carried.fileName} />
      <input type="hidden" name="file" value={carried.file} />
      <input type="hidden" name="dates" value={carried.dates} />
    </>
  );
}

/** A file of orders may be this large: some thousand lines with room for long names. */
export const MOST_FILE_BYTES = 2 * 1024 * 1024;
/** Lines of orders in one file, the header not counted. */
export const MOST_FILE_LINES = 5000;

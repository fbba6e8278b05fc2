/// <reference lib="dom" />
/** A file for the operator to keep: the browser puts it where it puts downloads. */
export function save(name: string, text: string): void {
  const address = URL.createObjectURL(new Blob([text], { type: 'text/plain' }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), KEPT_FOR);
}

/** ms: a browser has begun to write by then. */
const KEPT_FOR = 10_000;

/// <reference lib="dom" />
/** Files dropped on the page or pasted into it: a session by its name's ending, anything else is a frame. */

const SESSION_NAME = /\.(ya?ml|json)$/i;

interface Takers {
  readonly session: (file: File) => void;
  readonly frames: (files: readonly File[]) => void;
}

/** Several sessions cannot be gone on with: the last one is. */
export function takeDroppedFiles({ session, frames }: Takers): void {
  const take = (files: readonly File[]): void => {
    const [last] = files.filter(({ name }) => SESSION_NAME.test(name)).slice(-1);
    const others = files.filter(({ name }) => !SESSION_NAME.test(name));
    if (last !== undefined) session(last);
    if (others.length > 0) frames(others);
  };
  addEventListener('dragover', (event) => event.preventDefault());
  addEventListener('drop', (event) => {
    event.preventDefault();
    take([...(event.dataTransfer?.files ?? [])]);
  });
  addEventListener('paste', (event) => {
    const files = [...(event.clipboardData?.files ?? [])];
    if (files.length === 0) return;
    event.preventDefault();
    take(files);
  });
}

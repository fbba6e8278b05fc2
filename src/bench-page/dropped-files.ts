/// <reference lib="dom" />
/** Files dropped on the page or pasted into it: a session or a bench file by its name's ending, anything else is a frame. */

const TEXT_NAME = /\.(ya?ml|json)$/i;

interface Takers {
  /** A session, or a bench file. */
  readonly text: (file: File) => void;
  readonly frames: (files: readonly File[]) => void;
}

/** Several sessions cannot be gone on with: the last file is. */
export function takeDroppedFiles({ text, frames }: Takers): void {
  const take = (files: readonly File[]): void => {
    const [last] = files.filter(({ name }) => TEXT_NAME.test(name)).slice(-1);
    const others = files.filter(({ name }) => !TEXT_NAME.test(name));
    if (last !== undefined) text(last);
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

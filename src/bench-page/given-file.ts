/// <reference lib="dom" />
/** What is in a file that the operator gave. A browser refuses one that was written anew or taken away since: that is said. */
import { errorFinding, type Finding } from '../finding/finding.ts';

export async function contentOf<Content>(
  file: File,
  read: (file: File) => Promise<Content>,
): Promise<{ readonly content: Content } | { readonly finding: Finding }> {
  try {
    return { content: await read(file) };
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    return { finding: errorFinding('unreadable-file', file.name, `cannot be read: ${why}`, 'open it again') };
  }
}

/** A page of the program as text, as a reader has it: markup gone, entities as letters, blanks run together. */

const ENTITIES: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"' };

export const plainText = (html: string): string =>
  html
    .replace(/<style>[\s\S]*?<\/style>|<svg[\s\S]*?<\/svg>/g, '')
    .replace(/<[^>]*>/g, ' ')
    .replace(/&(#\d+|\w+);/g, (whole, name: string) =>
      name.startsWith('#') ? String.fromCodePoint(Number(name.slice(1))) : (ENTITIES[name] ?? whole),
    )
    .replace(/\s+/g, ' ')
    .trim();

/** The section of each patch, by its id. */
export function patchSections(html: string): ReadonlyMap<string, string> {
  const sections = html.split(/(?=<section\b)/).slice(1);
  return new Map(
    sections.map((section) => {
      const [, title] = /<h[23]>(?:\d+\. )?(.*?)<\/h[23]>/.exec(section)!;
      return [title!, section.split('</section>')[0]!];
    }),
  );
}

/** The rows of every table, their cells as text. */
export const tableRows = (html: string): readonly (readonly string[])[] =>
  [...html.matchAll(/<tr>([\s\S]*?)<\/tr>/g)].map(([, row]) =>
    [...row!.matchAll(/<t[dh]\b[^>]*>([\s\S]*?)<\/t[dh]>/g)].map(([, cell]) => plainText(cell!)),
  );

/** The captions of a page's figures. */
export const captionsIn = (html: string): readonly string[] =>
  [...html.matchAll(/<figcaption>([\s\S]*?)<\/figcaption>/g)].map(([, caption]) => plainText(caption!));

/** The fabricator's page as plain text in blocks, from which the HTML and the PDF are made alike. */

export type Row = readonly string[];

export type Block =
  | { readonly is: 'heading' | 'paragraph' | 'banner'; readonly text: string }
  | { readonly is: 'steps'; readonly items: readonly string[] }
  /** Names and what they stand for. */
  | { readonly is: 'facts'; readonly rows: readonly (readonly [name: string, value: string])[] }
  /** `numeric`: columns whose numbers stand to the right. */
  | {
      readonly is: 'table';
      readonly heads: Row;
      readonly rows: readonly Row[];
      readonly numeric?: readonly number[];
    };

export const heading = (text: string): Block => ({ is: 'heading', text });
export const paragraph = (text: string): Block => ({ is: 'paragraph', text });
export const banner = (text: string): Block => ({ is: 'banner', text });

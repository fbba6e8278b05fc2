/** Names in a sentence: the first `most` of them, and how many more there are. */
export const nameList = (names: readonly string[], most: number): string =>
  names.length <= most
    ? names.join(', ')
    : `${names.slice(0, most).join(', ')} and ${names.length - most} more`;

// How many of something, in words.

/** Returns "1 photo", "3 entries". */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}

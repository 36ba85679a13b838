/** Longest address sent; some proxies refuse more than 2 000 characters. */
const longestUrl = 1800

/**
 * Splits the values of a comma list so that no address grows too long and no list holds more than servers take.
 *
 * @param rest characters of the address beside the list
 * @param most values per list
 */
export function batches(values: Iterable<string>, rest: number, most: number): string[][] {
  const lists: string[][] = []
  let room = 0
  for (const value of values) {
    // A comma is sent as %2C.
    const needed = encodeURIComponent(value).length + 3
    const last = lists.at(-1)
    if (last && last.length < most && needed <= room) {
      last.push(value)
      room -= needed
    } else {
      lists.push([value])
      room = longestUrl - rest - needed
    }
  }
  return lists
}

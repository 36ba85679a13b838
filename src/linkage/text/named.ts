/** Something that a statement names, and where: `from` its first character, `to` the one after its last. */
export interface Named<T> {
  readonly what: T
  readonly from: number
  readonly to: number
}

/** @param pattern a global expression; each of its matches names `what` */
export function named<T>(statement: string, pattern: RegExp, what: T): Named<T>[] {
  return Array.from(statement.matchAll(pattern), (match) => ({
    what,
    from: match.index,
    to: match.index + match[0].length,
  }))
}

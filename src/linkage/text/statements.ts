/** Characters of a statement; a sentence has a few hundred. */
const longestStatement = 2_000

// Not after an abbreviation, not within a decimal; the mark itself stays with its statement.
const ends = /(?<!\b(?:approx|cf|dr|e\.g|i\.e|vs))[.!?](?= |$)|[;\n]/g

/**
 * Statements of a tidied text, in order: sentences, lines, and what a semicolon parts. One longer than any sentence is cut at a blank, which keeps the cost of each bounded.
 */
export function statementsOf(text: string): string[] {
  const statements: string[] = []
  let from = 0
  const add = (to: number) => {
    for (const piece of pieces(text.slice(from, to).trim())) statements.push(piece.replace(/^- /, ''))
    from = to
  }
  for (const match of text.matchAll(ends)) {
    // A question mark makes doubt of what stands before it, so it is kept; the other marks say nothing.
    add(match[0] === '?' ? match.index + 1 : match.index)
    from = match.index + 1
  }
  add(text.length)
  // No word that is looked for is shorter than three letters.
  return statements.filter((statement) => /[a-z]{3}/.test(statement))
}

function pieces(text: string): string[] {
  if (text.length <= longestStatement) return [text]
  const found: string[] = []
  for (let at = 0; at < text.length; ) {
    const blank = text.lastIndexOf(' ', at + longestStatement)
    const to = at + longestStatement >= text.length ? text.length : blank > at ? blank : at + longestStatement
    found.push(text.slice(at, to).trim())
    at = to
  }
  return found
}

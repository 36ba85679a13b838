/** A place in an expression; both numbers count from 1. */
export interface Position {
  readonly line: number
  readonly column: number
}

/** An expression that is refused: why, what to write instead, and where. The build step adds file and population. */
export class CriterionError extends Error {
  override name = 'CriterionError'
  readonly position: Position

  constructor(reason: string, position: Position) {
    super(`${reason} (line ${position.line}, column ${position.column})`)
    this.position = position
  }
}

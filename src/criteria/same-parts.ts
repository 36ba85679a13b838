import type { Ast } from './criterion.ts'

/**
 * Numbers the parts of expressions, so that parts which say the same have the same number. Each part is looked at once: what it is
 * made of stands in its description by number, not by its text.
 */
export class SameParts {
  readonly #numbers = new Map<object, number>()
  readonly #known = new Map<string, number>()

  of(part: Ast): number {
    return this.#number(part)
  }

  #number(node: object): number {
    const seen = this.#numbers.get(node)
    if (seen !== undefined) return seen
    const description = Object.entries(node)
      .map(([name, value]) => `${name}:${this.#described(value)}`)
      .join()
    const number = this.#known.get(description) ?? this.#known.size
    this.#known.set(description, number)
    this.#numbers.set(node, number)
    return number
  }

  #described(value: unknown): string {
    return typeof value === 'object' && value !== null ? `#${this.#number(value)}` : JSON.stringify(value)
  }
}

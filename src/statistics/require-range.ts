/**
 * The one wording in which every statistic refuses bad input.
 *
 * @throws {RangeError} `method: rule; got …` when the rule does not hold
 */
export function requireRange(holds: boolean, method: string, rule: string, ...got: readonly number[]): void {
  if (!holds) throw new RangeError(`${method}: ${rule}; got ${got.join(', ')}`)
}

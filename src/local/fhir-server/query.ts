import { dateTest } from './date-range.ts'
import { Refusal } from './refusal.ts'
import type { TypeIndex } from './resource-index.ts'
import { type SearchParameter, searchParameters } from './search-parameters.ts'

/** One condition of a search: a test of one position and, where an index has them, the positions that satisfy it. */
export interface Condition {
  readonly test: (index: TypeIndex, position: number) => boolean
  readonly indexed?: {
    /** At most so many positions. */
    readonly most: number
    /** In order, each once. */
    readonly positions: () => number[]
  }
}

/**
 * Reads one `name=value` of a search into a condition.
 *
 * @param base address of the server, so that absolute references to it are known as its own
 * @throws {Refusal} 400 for a parameter, modifier, prefix or value that this server does not know
 */
export function readCondition(type: string, index: TypeIndex, name: string, value: string, base: string): Condition {
  const [bare = '', modifier, ...more] = name.split(':')
  const parameter = searchParameters[type]?.[bare]
  if (parameter === undefined) throw new Refusal(400, 'not-supported', `${type} cannot be searched by ${bare} here`)
  if (modifier === 'missing' && more.length === 0) return missing(parameter, bare, value)
  if (modifier !== undefined)
    throw new Refusal(400, 'not-supported', `The modifier :${modifier} of ${bare} is not supported here`)
  const choices = splitChoices(value)
  if (choices.some((choice) => choice === '')) throw new Refusal(400, 'invalid', `${bare} has an empty value`)
  if (parameter.kind === 'date') {
    const tests = choices.map((choice) => dateTest(bare, plain(choice)))
    return {
      test: (one, position) => (one.ranges(bare)[position] ?? []).some((range) => tests.some((test) => test(range))),
    }
  }
  const keys = choices.flatMap((choice) =>
    parameter.kind === 'reference' ? referenceKeys(parameter, bare, plain(choice), base) : [tokenKey(choice)],
  )
  const found = index.positions(bare)
  const lists = keys.flatMap((key) => [found.get(key) ?? []])
  const wanted = new Set(keys)
  return {
    test: (one, position) => one.keys(bare)[position]?.some((key) => wanted.has(key)) ?? false,
    indexed: {
      most: lists.reduce((sum, { length }) => sum + length, 0),
      positions: () => [...new Set(lists.flat())].sort((one, other) => one - other),
    },
  }
}

function missing(parameter: SearchParameter, name: string, value: string): Condition {
  if (value !== 'true' && value !== 'false') throw new Refusal(400, 'invalid', `${name}:missing is true or false`)
  const wanted = value === 'true'
  if (parameter.kind === 'date')
    return { test: (index, position) => (index.ranges(name)[position]?.length === 0) === wanted }
  const holders = new WeakMap<TypeIndex, ReadonlySet<number>>()
  return {
    test(index, position) {
      const having = holders.get(index) ?? new Set([...index.positions(name).values()].flat())
      holders.set(index, having)
      return having.has(position) !== wanted
    },
  }
}

/** `id`, `Type/id` or an absolute address of this server. */
function referenceKeys(parameter: SearchParameter, name: string, value: string, base: string): string[] {
  const own = value.startsWith(`${base}/`) ? value.slice(base.length + 1) : value
  const targets = parameter.targets ?? []
  const [type = '', id, ...more] = own.split('/')
  if (id === undefined) return targets.map((target) => `${target}/${type}`)
  if (more.length > 0 || own.includes(':')) return []
  if (!targets.includes(type)) throw new Refusal(400, 'invalid', `${name} does not refer to ${type}`)
  return [own]
}

function tokenKey(choice: string): string {
  const [first = '', ...rest] = splitAt(choice, '|')
  return rest.length === 0 ? plain(first) : `${plain(first)}|${plain(rest.join('|'))}`
}

const splitChoices = (value: string): string[] => splitAt(value, ',')

/** Splits where the separator stands without a backslash before it; what is escaped stays so. */
function splitAt(text: string, separator: string): string[] {
  const parts = ['']
  for (const [piece] of text.matchAll(/\\?./gs))
    if (piece === separator) parts.push('')
    else parts.push(parts.pop() + piece)
  return parts
}

const plain = (text: string): string => text.replace(/\\([\\,|$])/g, '$1')

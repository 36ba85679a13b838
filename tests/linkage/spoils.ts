export type Json = Readonly<Record<string, unknown>>

/** What is done to one place of a resource. */
export type Fault =
  | 'dropped'
  | 'null'
  | 'emptied'
  | 'another type'
  | 'nested deeply'
  | 'a huge string'
  | 'unknown code'
  | 'unknown system'
  | 'unknown unit'
  | 'dangling reference'
  | 'foreign reference'
  | 'contained nowhere'
  | 'bad date'
  | 'no date at all'

/** One resource with one place spoilt. */
export interface Spoilt {
  readonly resource: unknown
  readonly fault: Fault
  /** Names of the elements down to the place; places in lists have none. */
  readonly path: readonly string[]
  /** What stood there. */
  readonly was: unknown
}

const nested = (levels: number): unknown => (levels === 0 ? 'x' : { coding: [nested(levels - 1)] })
const deep = nested(100)
const huge = 'x'.repeat(20_000)
const quantities: ReadonlySet<string | undefined> = new Set(['valueQuantity', 'dose', 'low', 'high'])

/** Every way to spoil a resource in one place. Its type stays: of another type it is another resource. */
export function* spoilsOf(resource: Json): Generator<Spoilt> {
  for (const name of Object.keys(resource))
    if (name !== 'resourceType')
      for (const one of spoils(resource[name], [name]))
        yield { ...one, resource: 'gone' in one ? without(resource, name) : { ...resource, [name]: one.value } }
}

type Change = Omit<Spoilt, 'resource'> & { readonly value?: unknown; readonly gone?: true }

/** Changes of a value, the innermost included; `gone` where it is to be taken away. */
function* spoils(was: unknown, path: readonly string[]): Generator<Change> {
  yield { fault: 'dropped', path, was, gone: true }
  yield { fault: 'null', path, was, value: null }
  for (const [fault, value] of replacements(was, path)) yield { fault, path, was, value }
  if (Array.isArray(was)) {
    for (const [index, inner] of was.entries())
      for (const one of spoils(inner, path))
        yield within(one, 'gone' in one ? was.toSpliced(index, 1) : was.with(index, one.value))
  } else if (typeof was === 'object' && was !== null) {
    const held = was as Json
    for (const name of Object.keys(held))
      for (const one of spoils(held[name], [...path, name]))
        yield within(one, 'gone' in one ? without(held, name) : { ...held, [name]: one.value })
  }
}

const within = ({ fault, path, was }: Change, value: unknown): Change => ({ fault, path, was, value })

function without(held: Json, name: string): Json {
  const { [name]: _, ...rest } = held
  return rest
}

function* replacements(was: unknown, path: readonly string[]): Generator<[Fault, unknown]> {
  yield ['nested deeply', deep]
  if (typeof was !== 'string') {
    if (Array.isArray(was)) yield ['emptied', []]
    else if (typeof was === 'object') yield ['emptied', {}]
    yield ['another type', typeof was === 'object' ? 7 : 'perhaps']
    return
  }
  yield ['another type', 7]
  yield ['a huge string', huge]
  const name = path.at(-1)
  const holder = path.at(-2)
  if (name === 'reference') {
    yield ['dangling reference', `${was.split('/')[0]}/gone`]
    yield ['foreign reference', `https://elsewhere.example/fhir/${was}`]
    yield ['contained nowhere', '#gone']
  } else if (quantities.has(holder) && (name === 'code' || name === 'unit')) yield ['unknown unit', 'furlong']
  else if (name === 'code') yield ['unknown code', 'nobody-knows-this']
  else if (name === 'system') yield ['unknown system', 'https://nobody.example/codes']
  else if (name !== 'id' && /^\d{4}(-\d{2}|$)/.test(was)) {
    yield ['bad date', '2026-13-45']
    yield ['no date at all', 'last Tuesday']
  } else if (name !== 'id' && name !== 'display' && name !== 'text' && name !== 'value')
    yield ['unknown code', 'nobody-knows-this']
}

import { Refusal } from './refusal.ts'

/** One search as asked, its name-value pairs in order. */
export type Pairs = readonly (readonly [string, string])[]

/** How a server behaves; everything but the address is for trying what clients make of it. */
export interface ServerOptions {
  /** Address under which it is reached; by default the origin of each request with `/fhir`. */
  readonly baseUrl?: string
  /** Most matches on a page, however many are asked for. */
  readonly pageSize?: number
  /** Order of matches where the client asks for none; `shuffled` depends on `seed` alone. */
  readonly order?: 'id' | 'reversed' | 'shuffled'
  readonly seed?: number
  /** Delivers every so-manieth resource twice on its page. */
  readonly duplicates?: number
}

const parameter = '_page'

/** A next link holds the whole search, unreadable on purpose: clients have to follow it as it stands. */
export function writePage(query: Pairs, offset: number): string {
  const text = JSON.stringify([offset, query])
  return `${parameter}=${btoa(String.fromCharCode(...new TextEncoder().encode(text)))
    .replaceAll('+', '-')
    .replaceAll('/', '_')
    .replaceAll('=', '')}`
}

/** @throws {Refusal} 400 for a page that this server never gave out */
export function readPage(pairs: Pairs): { readonly offset: number; readonly asked: Pairs } {
  const page = pairs.find(([name]) => name === parameter)?.[1]
  if (page === undefined) return { offset: 0, asked: pairs }
  try {
    const bytes = Uint8Array.from(atob(page.replaceAll('-', '+').replaceAll('_', '/')), (letter) =>
      letter.charCodeAt(0),
    )
    const [offset, asked] = JSON.parse(new TextDecoder().decode(bytes)) as [unknown, unknown]
    if (pairs.length === 1 && Number.isSafeInteger(offset) && isPairs(asked)) return { offset: offset as number, asked }
  } catch {
    // Falls through to the refusal: whatever is wrong with the page, it is not one of ours.
  }
  throw new Refusal(400, 'invalid', 'This is not a page that this server gave out')
}

function isPairs(value: unknown): value is Pairs {
  return (
    Array.isArray(value) &&
    value.every((pair) => Array.isArray(pair) && pair.length === 2 && pair.every((part) => typeof part === 'string'))
  )
}

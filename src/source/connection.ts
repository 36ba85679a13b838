import type { Source } from '../config.ts'
import { createGate, type Gate } from './gate.ts'
import { OwnAddresses } from './own-addresses.ts'

/** As much of the platform's `fetch` as is used. It is called as a plain function, which the worker's runtime demands. */
export type FetchSource = (url: string, init: RequestInit) => Promise<Response>

export interface PullOptions {
  /** Limit of one reading, from sending to the last byte; 30 000 by default. */
  readonly timeoutMilliseconds?: number
  /** Rows asked for per page; 200 by default. The server may send fewer. */
  readonly pageSize?: number
  /** Pages read of one search before it is given up as endless; 500 by default. */
  readonly maximumPages?: number
  readonly sleep?: (milliseconds: number) => Promise<void>
  /** A number in [0, 1), for the jitter of waits. */
  readonly random?: () => number
  /** Milliseconds since 1970. */
  readonly now?: () => number
}

/** One pull's way to its source: what every reading shares. */
export interface Connection extends Required<PullOptions> {
  readonly source: Source
  readonly fetchSource: FetchSource
  /** What the source calls itself, as far as its answers have told. */
  readonly own: OwnAddresses
  /** Readings at once; no more than a browser would open. */
  readonly gate: Gate
  /** Aborts as soon as the pull has failed, so that nothing goes on reading for nobody. */
  readonly stopped: AbortSignal
  /** Requests sent so far, repeats included. */
  requests: number
}

export function connect(
  source: Source,
  fetchSource: FetchSource,
  stopped: AbortSignal,
  options: PullOptions,
): Connection {
  return {
    source,
    fetchSource,
    stopped,
    own: new OwnAddresses(source.baseUrl),
    gate: createGate(6),
    requests: 0,
    timeoutMilliseconds: 30_000,
    pageSize: 200,
    maximumPages: 500,
    sleep: (milliseconds) => new Promise((resolve) => setTimeout(resolve, milliseconds)),
    random: Math.random,
    now: Date.now,
    ...options,
  }
}

import type { Scalar } from './criterion.ts'

/** The record, or an element of one of its lists. */
export type Row = Readonly<Record<string, unknown>>

/** One expression as a function of what is in focus; undefined is FHIRPath's empty. */
export type Closure = (focus: Row | Scalar) => Scalar | undefined

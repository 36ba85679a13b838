import type { Field } from '../record/field.ts'
import type { Scalar } from './criterion.ts'

/** The fields that an expression may read: the logical model of the record. */
export type Model = Readonly<Record<string, Field>>

/** What an expression yields when it yields one thing; it may always be empty instead. */
export type ValueType =
  | { readonly kind: 'boolean' | 'number' | 'string' | 'date' | 'empty' }
  /** A field with a fixed set of words. */
  | { readonly kind: 'code'; readonly values: readonly string[] }
  /** String literals of the expression. */
  | { readonly kind: 'words'; readonly values: readonly string[] }
  /** The record itself, or an element of a list; `path` is `''` for the record and `polyps.` for its polyps. */
  | { readonly kind: 'row'; readonly model: Model; readonly path: string }

/** Type of a field that is not a list. */
export function fieldType(field: Field): ValueType {
  switch (field.type) {
    case 'integer':
    case 'decimal':
      return { kind: 'number' }
    case 'code':
      return { kind: 'code', values: field.values ?? [] }
    case 'list':
      throw new Error('a list has no single value')
    default:
      return { kind: field.type }
  }
}

export function literalType(value: Scalar): ValueType {
  if (typeof value === 'string') return { kind: 'words', values: [value] }
  return typeof value === 'number' ? { kind: 'number' } : { kind: 'boolean' }
}

/** @returns the words of the first, literals, that the second, a code, cannot have */
export function unknownWords(one: ValueType, other: ValueType): string[] {
  return one.kind === 'words' && other.kind === 'code' ? one.values.filter((word) => !other.values.includes(word)) : []
}

/**
 * @returns the type that holds the values of both, or undefined where the two are never alike: unlike types, or codes
 *   without a word in common. Whether literal words are words of a code is for `unknownWords`.
 */
export function commonType(one: ValueType, other: ValueType): ValueType | undefined {
  if (one.kind === 'empty') return other
  if (other.kind === 'empty') return one
  if (one.kind === 'code' && other.kind === 'code' && !one.values.some((word) => other.values.includes(word)))
    return undefined
  if ('values' in one && 'values' in other)
    return {
      kind: one.kind === 'words' && other.kind === 'words' ? 'words' : 'code',
      values: [...new Set([...one.values, ...other.values])],
    }
  if (one.kind === 'string' && other.kind === 'words') return one
  if (one.kind === 'words' && other.kind === 'string') return other
  return one.kind === other.kind && one.kind !== 'row' ? one : undefined
}

/** What a type is called in a refusal. */
export function described(type: ValueType): string {
  switch (type.kind) {
    case 'boolean':
      return 'true or false'
    case 'number':
      return 'a number'
    case 'date':
      return 'a date'
    case 'string':
    case 'words':
      return 'a text'
    case 'code':
      return `one of the words ${type.values.join(', ')}`
    case 'row':
      return type.path === '' ? 'the whole record' : 'a whole element of a list'
    case 'empty':
      return 'empty'
  }
}

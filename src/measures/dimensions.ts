/**
 * What every measure can be divided by, and the expression by which a stratifier of a Measure says so. Counting by anything
 * else would need that to be kept of every examination, so nothing else is accepted.
 */
export const dimensions = {
  unit: 'unit',
  practitioner: 'operator',
  month: 'examinationMonth',
  'referral-reason': 'referralReason',
  sex: 'sex',
  'age-band':
    "iif(age < 45, '0-44', iif(age < 50, '45-49', iif(age < 60, '50-59', iif(age < 70, '60-69', iif(age < 80, '70-79', iif(age >= 80, '80+', {}))))))",
  attachment: 'attachment',
} as const satisfies Record<string, string>

export type Dimension = keyof typeof dimensions

/** Where each age band begins, in whole years; the expression above says the same. */
export const ageBands = [
  [80, '80+'],
  [70, '70-79'],
  [60, '60-69'],
  [50, '50-59'],
  [45, '45-49'],
  [0, '0-44'],
] as const

/** @returns the dimension that an expression states, where it is one of these; whose figure `practitioner` is follows from the attribution */
export function dimensionOf(expression: string): Dimension | undefined {
  const known = Object.entries(dimensions) as [Dimension, string][]
  return expression === 'supervisor' ? 'practitioner' : known.find(([, written]) => written === expression)?.[0]
}

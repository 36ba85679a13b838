/** Factor of each unit to the one that a measure is kept in: UCUM codes, and the words people type, in small letters. */
export type Units = ReadonlyMap<string, number>

const table = (...rows: readonly (readonly [factor: number, words: string])[]): Units =>
  new Map(rows.flatMap(([factor, words]) => words.split(' ').map((word): [string, number] => [word, factor])))

export const minutes = table(
  [1, 'min mins minute minutes'],
  [1 / 60, 's sec secs second seconds'],
  [60, 'h hr hrs hour hours'],
)

export const millimetres = table(
  [1, 'mm millimetre millimetres millimeter millimeters'],
  [10, 'cm centimetre centimetres centimeter centimeters'],
)

// The micro sign and the Greek letter mu look alike, and both are written.
export const micrograms = table(
  [1, 'ug µg μg mcg microgram micrograms'],
  [1000, 'mg milligram milligrams'],
  [1_000_000, 'g gram grams'],
)

/**
 * UCUM has a year of 365.25 days, twelve months to the year and seven days to the week
 * (The Unified Code for Units of Measure, table of other units: a, mo, wk, d).
 */
export const months = table(
  [1, 'mo month months'],
  [12, 'a yr yrs year years'],
  [(7 * 12) / 365.25, 'wk wks week weeks'],
  [12 / 365.25, 'd day days'],
)

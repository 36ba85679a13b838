import type { GroupResult, MeasureResult, Stratum } from '../tally/result.ts'

/** One line of the chart and of the table. */
export interface Row {
  readonly kind: 'whole' | 'unit' | 'unit-unassigned' | 'practitioner' | 'unattributed'
  readonly label: string
  /** Practitioner key in full, where the label shortens it. */
  readonly fullKey?: string
  readonly group: GroupResult
}

/** Examinations that make the score: met and not met, of the settled days. */
export const counted = ({ settled }: GroupResult): number => settled.met + settled.notMet

/**
 * The lines in reading order: the whole, then units by name (where several are read together), then practitioners by the
 * number of examinations counted, then what has no practitioner. Never by rate: a list ranked by rate ranks chance.
 */
export function rowsOf(result: MeasureResult): Row[] {
  const { whole, units, practitioners, unitNames, scope } = result
  const nameOf = (key: string): string => unitNames[key] ?? key
  const named = practitioners.filter(hasKey)
  const labels = labelsOf(named.map(({ key }) => key))
  const byVolume = named.toSorted((one, other) => counted(other) - counted(one) || (one.key < other.key ? -1 : 1))
  const severalUnits = scope.unit === undefined && units.length > 1
  return [
    { kind: 'whole', label: scope.unit ? scope.unit.name : 'All units together', group: whole },
    ...(severalUnits ? units.filter(hasKey) : [])
      .toSorted((one, other) => (nameOf(one.key) < nameOf(other.key) ? -1 : 1))
      .map((group): Row => ({ kind: 'unit', label: nameOf(group.key), group })),
    ...(severalUnits ? units.filter((group) => !hasKey(group)) : []).map(
      (group): Row => ({ kind: 'unit-unassigned', label: 'Unit unassigned', group }),
    ),
    ...byVolume.map((group): Row => {
      const label = labels.get(group.key) ?? group.key
      return { kind: 'practitioner', label, ...(label !== group.key && { fullKey: group.key }), group }
    }),
    ...practitioners
      .filter((group) => !hasKey(group))
      .map((group): Row => ({ kind: 'unattributed', label: 'Unattributed', group })),
  ]
}

const hasKey = (group: Stratum): group is Stratum & { readonly key: string } => group.key !== undefined

/** The value of each `system|value` key, unless two systems share a value: then those keys stay whole. */
function labelsOf(keys: readonly string[]): Map<string, string> {
  const lastPart = (key: string): string => key.slice(key.lastIndexOf('|') + 1)
  const perValue = Map.groupBy(keys, lastPart)
  return new Map(keys.map((key) => [key, perValue.get(lastPart(key))?.length === 1 ? lastPart(key) : key]))
}

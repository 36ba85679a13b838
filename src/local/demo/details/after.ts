import type { Plan } from '../plan.ts'
import type { TruthRow } from '../truth-row.ts'
import type { WrittenAdvice } from './details.ts'

/**
 * Whether the last advice was given when pathology was final. All but what one unit amends is signed on the day itself, when no
 * laboratory has an answer yet; where nothing was sent there is none to wait for.
 *
 * @param row with the rest of its truth; of a polyp of which nobody says what was done, nobody can say that nothing was sent
 * @param amended advice given after pathology
 */
export function adviceAfterPathology(
  { advice, pathology, polyps }: TruthRow,
  amended: (WrittenAdvice & { readonly day: number }) | undefined,
): boolean | undefined {
  if (advice === undefined) return undefined
  if (pathology === 'not-sent') return polyps.every(({ handling }) => handling !== undefined) ? true : undefined
  return pathology === 'final' || pathology === 'unreadable' ? amended !== undefined : undefined
}

/** Days after an examination within which a cancer was there at it. */
const presentWithin = 183

/** A cancer in its tissue, or one diagnosed by then in a patient who had none before. That there was none nobody knows. */
export function cancerWithinSixMonths({ row, jars, patient, day }: Plan): true | undefined {
  if (row.pathology === 'final' && jars.some(({ nature }) => nature === 'cancer')) return true
  const cancers = patient.history.filter(({ kind, stands }) => kind === 'colorectal-cancer' && stands)
  if (cancers.some(({ recordedDay }) => recordedDay < day)) return undefined
  const isWithin = cancers.some(({ onsetDay, recordedDay, past }) => {
    const after = (onsetDay ?? recordedDay) - day
    return !past && after >= 0 && after <= presentWithin
  })
  return isWithin ? true : undefined
}

import { canonicalBase } from '../../fhir/canonical.ts'

/** What every generated artefact says of itself. */
export function published<Type extends string>(resourceType: Type, id: string, title: string, description: string) {
  return {
    resourceType,
    id,
    url: `${canonicalBase}/${resourceType}/${id}`,
    version: '1.0.0',
    name: computableName(id),
    title,
    status: 'active' as const,
    experimental: false,
    date: '2026-11-25',
    publisher: 'Colonoscopy Measures project',
    description,
  }
}

/** `score-bounds` as `ScoreBounds`: names of definitions start with a capital and hold letters and digits only. */
const computableName = (id: string): string =>
  id
    .split('-')
    .map((word) => word.charAt(0).toUpperCase() + word.slice(1))
    .join('')

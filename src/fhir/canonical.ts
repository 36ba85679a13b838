/** Canonical base of everything this service publishes; fixed, whatever the address it is deployed at. */
export const canonicalBase = 'https://colonoscopy-measures.example/fhir'

/** Code system of ours for facts that have no agreed international code. */
export const factSystem = `${canonicalBase}/CodeSystem/colonoscopy-facts`

/** @returns the canonical of one of our extensions or profiles */
export const structure = (name: string): string => `${canonicalBase}/StructureDefinition/${name}`

import { readFileSync } from 'node:fs'
import type { CodeSystem, ConceptMap, ValueSet } from 'fhir/r4'

const read = <Resource>(name: string): Resource => JSON.parse(readFileSync(`measures/${name}.json`, 'utf8')) as Resource

const displays = new Map<string, string>()
for (const name of [
  'colonoscopy',
  'polypectomy',
  'tissue-taken-or-treated',
  'polyp-finding',
  'boston-segment',
  'boston-total',
  'normal-examination',
  'midazolam',
  'fentanyl',
  'pethidine',
  'propofol',
  'reversal-agent',
  'colorectal-cancer',
  'antithrombotic-use',
])
  for (const { system, concept } of read<ValueSet>(`ValueSet-${name}`).compose?.include ?? [])
    for (const { code, display } of concept ?? []) if (display) displays.set(`${system}|${code}`, display)
for (const name of ['bowel-site', 'histology', 'preparation-level', 'setting'])
  for (const { source, element } of read<ConceptMap>(`ConceptMap-${name}`).group ?? [])
    for (const { code, display } of element) if (display) displays.set(`${source}|${code}`, display)
const facts = read<CodeSystem>('CodeSystem-colonoscopy-facts')
for (const { code, display } of facts.concept ?? []) if (display) displays.set(`${facts.url}|${code}`, display)

/** What a code is called in the published artefacts; records in the wild carry such words, and nothing may depend on them. */
export const displayOf = (system: string, code: string): string | undefined => displays.get(`${system}|${code}`)

import type { TruthRow } from '../../src/local/demo/truth-row.ts'

/** A complete, clean examination for screening at 60, nothing found. */
export const plain: TruthRow = {
  procedure: 'Procedure/one',
  kind: 'examination',
  patient: 'one',
  unit: 'ellenby',
  operator: 'people|1',
  date: '2026-01-10',
  age: 60,
  sex: 'female',
  reason: 'screening',
  setting: 'outpatient',
  intent: 'complete',
  inflammatoryBowelDisease: false,
  hereditarySyndrome: false,
  earlierResection: false,
  report: 'final',
  stopped: false,
  extent: 'caecum',
  photographs: ['appendix-orifice', 'ileocaecal-valve'],
  withdrawalMinutes: 9,
  preparation: { kind: 'segments', left: 3, transverse: 3, right: 3 },
  polyps: [],
  randomBiopsies: 0,
  pathology: 'not-sent',
  confirmedAdenomas: 0,
}

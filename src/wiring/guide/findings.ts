import type { findings } from '../../record/findings.ts'
import { bounded, numbered } from './biopsies.ts'
import { asObserved } from './observed.ts'
import { polyp, polypectomy, polypWays } from './polyps.ts'
import type { Way, WaysOf } from './way.ts'

const observed: Way = {
  elements: ['Observation.code', 'Observation.component.code'],
  rungs: asObserved,
  codes: [
    { ...polyp, on: 'Observation.code or component.code' },
    { on: 'Observation.valueCodeableConcept', valueSets: ['stated-yes', 'stated-no'] },
  ],
  note: 'One observation for each polyp; a number without a unit as its value says how many, and a size is one polyp’s. A value that is not understood leaves the number open. A stated none (false, no, or 0) adds no polyp; that there was none at all is known only from a complete feed of polyps, once the report is signed.',
}
const asCondition: Way = {
  elements: ['Condition.code'],
  rungs: ['shared encounter'],
  codes: [{ on: 'Condition.code', valueSets: ['polyp-finding'] }],
  note: 'Only where no polyp is observed: beside observed ones it is taken for their summary.',
}
const handled: Way = {
  elements: ['Observation.component.valueCodeableConcept'],
  rungs: ['inferred from the findings'],
  codes: [polyp, { on: 'Observation.component.code', ours: ['polyp-handling', 'polyp-retrieval'] }],
}
export const findingsAccepted: WaysOf<typeof findings> = {
  polypCount: [
    observed,
    asCondition,
    polypectomy('Polypectomies beyond the polyps that are told.'),
    {
      elements: ['DiagnosticReport.result'],
      rungs: ['inferred from pathology'],
      note: 'Lesions that pathology names, where endoscopy tells of none.',
    },
    {
      elements: ['DiagnosticReport.status'],
      rungs: ['final report in a complete feed'],
      note: '0: the source declares a complete feed of polyps, the report is final, and no polyp is told.',
    },
    {
      elements: ['Procedure.status'],
      rungs: ['completed examination without a report, in a complete feed'],
      note: '0: as above, where the source sends no report of the examination.',
    },
    {
      elements: ['Procedure.code'],
      rungs: ['inferred from the procedure code'],
      codes: [{ on: 'Procedure.code', valueSets: ['polypectomy'] }],
    },
  ],
  polyps: [observed, asCondition],
  ...polypWays,
  knownLesionCount: [
    {
      elements: ['Observation.code'],
      rungs: asObserved,
      codes: [polyp, { on: 'Observation.component.code', ours: ['known-lesion-seen-again'] }],
      note: 'Component valueBoolean true.',
    },
    { ...handled, note: '0 where polyps are recorded or known to be none, and none is said to be known.' },
  ],
  polypRemoved: [
    polypectomy('A sub-procedure: partOf the colonoscopy, or of its encounter.'),
    {
      elements: ['Procedure.code'],
      rungs: ['inferred from the procedure code'],
      codes: [{ on: 'Procedure.code', valueSets: ['polypectomy'] }],
      note: 'The colonoscopy’s own code.',
    },
    handled,
    {
      elements: ['Observation.component'],
      rungs: ['inferred from the findings'],
      note: 'False where no polyp was found, or each was biopsied or left.',
    },
  ],
  polypsLeftCount: [handled],
  polypsNotFoundAgainCount: [handled],
  polypsWithoutObtainableHistology: [handled],
  biopsiesRight: numbered('biopsies-right'),
  biopsiesRightAtLeast: bounded('biopsies-right'),
  biopsiesLeft: numbered('biopsies-left'),
  biopsiesLeftAtLeast: bounded('biopsies-left'),
  biopsiesRectum: numbered('biopsies-rectum'),
  biopsiesRectumAtLeast: bounded('biopsies-rectum'),
}

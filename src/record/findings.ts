import type { Field } from './field.ts'
import { bowelSites, histologyClasses } from './words.ts'

export const polypFields = {
  site: {
    type: 'code',
    values: bowelSites,
    short: 'Segment in which the polyp lay.',
    filledBy: 'Observation.bodySite of the polyp, or of its specimen.',
  },
  sizeMillimetres: {
    type: 'decimal',
    unit: 'mm',
    short: 'Largest diameter as estimated or measured at endoscopy.',
    filledBy:
      'Size component or observation; cm is converted. A bound such as "<5 mm", or a range, is not a size; of two different sizes neither stands.',
  },
  sizeAtLeastMillimetres: {
    type: 'decimal',
    unit: 'mm',
    short: 'Smallest size that the record allows.',
    filledBy:
      'The size; the lower end of a range; a bound such as ">10 mm". Absent where nothing bounds it from below.',
  },
  sizeAtMostMillimetres: {
    type: 'decimal',
    unit: 'mm',
    short: 'Largest size that the record allows.',
    filledBy: 'The size; the upper end of a range; a bound such as "<5 mm". Absent where nothing bounds it from above.',
  },
  shape: {
    type: 'code',
    values: ['pedunculated', 'sessile', 'flat', 'depressed'],
    short: 'Shape of the polyp.',
    filledBy: 'Shape component. Absent where none is coded.',
  },
  handling: {
    type: 'code',
    values: ['removed', 'biopsied', 'left', 'not-found-again'],
    short: 'What was done with it: left on purpose and not found again are different things.',
    filledBy: 'Handling component, or a polypectomy that refers to the polyp.',
  },
  tool: {
    type: 'code',
    values: [
      'cold-snare',
      'hot-snare',
      'cold-forceps',
      'hot-forceps',
      'mucosal-resection',
      'submucosal-dissection',
      'other',
    ],
    short: 'With what it was removed or biopsied.',
    filledBy:
      'Tool component; else the code, or a used device, of the polypectomy that took it. Absent where neither says, or where two polypectomies used two.',
  },
  resection: {
    type: 'code',
    values: ['en-bloc', 'piecemeal'],
    short: 'Whether it was removed in one piece.',
    filledBy: 'Resection component. Absent where none is coded.',
  },
  retrieval: {
    type: 'code',
    values: ['retrieved', 'not-retrieved', 'discarded-under-protocol'],
    short: 'Whether tissue was recovered for histology.',
    filledBy: 'Retrieval component, or a specimen that belongs to the polyp.',
  },
  tattooed: {
    type: 'boolean',
    short: 'Its site was tattooed.',
    filledBy: 'Yes/no component, or a tattoo that refers to the polyp. Absent where neither says.',
  },
  predictedHistology: {
    type: 'code',
    values: histologyClasses,
    short: 'Histology class predicted at endoscopy. It never counts as histology.',
    filledBy: 'Prediction component. Absent where none is coded.',
  },
  sentForSurgery: {
    type: 'boolean',
    short: 'The patient was referred for surgery because of it.',
    filledBy: 'Yes/no component. Absent where none says.',
  },
  removalAttempted: {
    type: 'boolean',
    short: 'Its endoscopic removal was attempted in this examination, with or without success.',
    filledBy:
      'Yes/no component, or a polypectomy that refers to the polyp; true where it was removed. Absent where nothing says, and where it is said not to have been attempted and was.',
  },
  inaccessible: {
    type: 'boolean',
    short: 'Documented as not removable by endoscope.',
    filledBy: 'Yes/no component. Absent where none says, and where it is said of a polyp that was removed completely.',
  },
  suspectedCancer: {
    type: 'boolean',
    short: 'It looked malignant at endoscopy.',
    filledBy:
      'Yes/no component; true where cancer is the histology class predicted at endoscopy. Absent where neither says, or where they differ.',
  },
  clearance: {
    type: 'code',
    values: ['complete', 'incomplete'],
    short: 'Whether its removal was judged complete at endoscopy.',
    filledBy:
      'Clearance component. Absent where none is coded, and where it is complete for a polyp that was not removed.',
  },
  histology: {
    type: 'code',
    values: histologyClasses,
    feed: 'pathology',
    short:
      'Histology class of the polyp, from a final pathology report only; a prediction at endoscopy is never histology.',
    filledBy:
      'Final pathology result of the polyp’s specimen. Absent where several results leave open which is whose, and where a grade of dysplasia is all that is said.',
  },
  dysplasia: {
    type: 'code',
    values: ['none', 'low-grade', 'high-grade'],
    feed: 'pathology',
    short: 'Grade of dysplasia.',
    filledBy: 'Final pathology result of the polyp’s specimen. Absent where no grade is coded.',
  },
  villous: {
    type: 'boolean',
    feed: 'pathology',
    short: 'The adenoma has a villous part (tubulovillous or villous).',
    filledBy: 'Final pathology result of the polyp’s specimen. Absent where the code does not say.',
  },
} as const satisfies Record<string, Field>

export const findings = {
  polypCount: {
    type: 'integer',
    feed: 'polyps',
    short: 'Polyps newly found; known lesions are not counted as new.',
    filledBy:
      'Polyp observations, each one polyp or, with a bare number, so many; one written down again with the same identifier is one. Polypectomies beyond them. A Condition of a polyp counts where no new polyp is observed: beside observed ones it is their diagnosis. 0 only in a complete polyp feed, with a final report or, where the source sends no report of the examination, a completed one. Absent where a polyp observation says what cannot be read, or where pathology alone tells of polyps and leaves their number open.',
  },
  polyps: {
    type: 'list',
    of: polypFields,
    feed: 'polyps',
    short: 'One element per polyp found.',
    filledBy: 'Polyp observations and findings. Absent where their number is not recorded, or some are only counted.',
  },
  knownLesionCount: {
    type: 'integer',
    feed: 'polyps',
    short: 'Lesions known before and seen again: never counted as new.',
    filledBy:
      'Polyp observations said to be of a known lesion. 0 where polyps are recorded or known to be none, and none is said to be.',
  },
  polypRemoved: {
    type: 'boolean',
    feed: 'polyps',
    short: 'At least one polyp removed (not merely biopsied).',
    filledBy:
      'Polypectomy sub-procedures and polyp handling. False where polypCount is 0 or every polyp was biopsied or left.',
  },
  polypsLeftCount: {
    type: 'integer',
    feed: 'polyps',
    short: 'Polyps left in place on purpose.',
    filledBy: 'Polyp handling. Absent where that of any polyp is not recorded.',
  },
  polypsNotFoundAgainCount: {
    type: 'integer',
    feed: 'polyps',
    short: 'Polyps seen on the way in and not found again.',
    filledBy: 'Polyp handling. Absent where that of any polyp is not recorded.',
  },
  polypsWithoutObtainableHistology: {
    type: 'integer',
    feed: 'polyps',
    short:
      'Polyps for which no histology can ever come: not retrieved, discarded under protocol, left, or not found again.',
    filledBy: 'Polyp handling and retrieval. Absent where the number of polyps is not recorded.',
  },
  biopsiesRight: {
    type: 'integer',
    feed: 'polyps',
    short: 'Number of biopsies of the mucosa of the right colon: caecum to transverse colon, polyps aside.',
    filledBy:
      'Observation of their number; else quantities of the pots that hold no polyp, by site. 0 only where the source sends every polyp, the report is not preliminary, and no biopsy is told that may be from there. Absent where biopsies are told and their number, or from where they are, is not.',
  },
  biopsiesRightAtLeast: {
    type: 'integer',
    feed: 'polyps',
    short:
      'Fewest biopsies of the mucosa of the right colon: caecum to transverse colon, polyps aside, that the record allows.',
    filledBy:
      'The number; else one for each pot without a quantity, or one where a biopsy names the site. Absent where nothing bounds it from below.',
  },
  biopsiesLeft: {
    type: 'integer',
    feed: 'polyps',
    short:
      'Number of biopsies of the mucosa of the left colon: splenic flexure to rectosigmoid junction, polyps aside.',
    filledBy:
      'Observation of their number; else quantities of the pots that hold no polyp, by site. 0 only where the source sends every polyp, the report is not preliminary, and no biopsy is told that may be from there. Absent where biopsies are told and their number, or from where they are, is not.',
  },
  biopsiesLeftAtLeast: {
    type: 'integer',
    feed: 'polyps',
    short:
      'Fewest biopsies of the mucosa of the left colon: splenic flexure to rectosigmoid junction, polyps aside, that the record allows.',
    filledBy:
      'The number; else one for each pot without a quantity, or one where a biopsy names the site. Absent where nothing bounds it from below.',
  },
  biopsiesRectum: {
    type: 'integer',
    feed: 'polyps',
    short: 'Number of biopsies of the mucosa of the rectum, polyps aside.',
    filledBy:
      'Observation of their number; else quantities of the pots that hold no polyp, by site. 0 only where the source sends every polyp, the report is not preliminary, and no biopsy is told that may be from there. Absent where biopsies are told and their number, or from where they are, is not.',
  },
  biopsiesRectumAtLeast: {
    type: 'integer',
    feed: 'polyps',
    short: 'Fewest biopsies of the mucosa of the rectum, polyps aside, that the record allows.',
    filledBy:
      'The number; else one for each pot without a quantity, or one where a biopsy names the site. Absent where nothing bounds it from below.',
  },
} as const satisfies Record<string, Field>

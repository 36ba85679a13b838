import type { Field } from './field.ts'

const recordedBefore =
  'A Condition that began, was recorded or ended before the examination date (an age counts where the birth date is known), or a yes/no observation of the examination. Absent where that cannot be decided, where nobody has confirmed the condition, or where a yes stands against a no. False where an observation says so, or in a complete history feed.'

export const history = {
  inflammatoryBowelDisease: {
    type: 'boolean',
    feed: 'history',
    short: 'Inflammatory bowel disease recorded before the examination.',
    filledBy: recordedBefore,
  },
  inflammatoryBowelDiseaseActivity: {
    type: 'code',
    values: ['quiescent', 'active', 'severe'],
    feed: 'history',
    short: 'Activity of a known inflammatory bowel disease as recorded before the examination.',
    filledBy:
      'Condition.severity or clinicalStatus (remission: quiescent) of that condition, or an activity observation dated before the examination date. Absent where neither says.',
  },
  inflammatoryBowelDiseaseSeen: {
    type: 'boolean',
    feed: 'history',
    short: 'Inflammatory bowel disease first recorded on the examination day: seen during it, not known beforehand.',
    filledBy:
      'A Condition whose onset and recording are the examination date and none earlier. Absent where one of that day was or may have been known before. False only in a complete history feed.',
  },
  hereditarySyndrome: {
    type: 'boolean',
    feed: 'history',
    short: 'Polyposis or hereditary colorectal cancer syndrome recorded before the examination.',
    filledBy: recordedBefore,
  },
  earlierResection: {
    type: 'boolean',
    feed: 'history',
    short: 'Part of the colon or rectum resected before the examination.',
    filledBy: `${recordedBefore} A completed resection Procedure dated before it counts too.`,
  },
  resectedPart: {
    type: 'code',
    values: ['right', 'transverse', 'left', 'rectum', 'subtotal', 'total', 'several'],
    feed: 'history',
    short: 'Which part was resected; several where more than one is named, unless one of them is the total colon.',
    filledBy: 'Code of the earlier resection, else its bodySite. Absent where none names the part.',
  },
  strictureKnown: {
    type: 'boolean',
    feed: 'history',
    short: 'Stricture or suspected obstruction of the large bowel recorded before the examination.',
    filledBy: `${recordedBefore} A suspicion is enough.`,
  },
  severeDiverticulosis: {
    type: 'boolean',
    feed: 'history',
    short: 'Severe diverticular segment recorded before the examination.',
    filledBy: recordedBefore,
  },
  pelvicSurgeryOrRadiotherapy: {
    type: 'boolean',
    feed: 'history',
    short: 'Pelvic surgery or radiotherapy recorded before the examination.',
    filledBy: `${recordedBefore} A completed Procedure dated before it counts too.`,
  },
  earlierColorectalCancer: {
    type: 'boolean',
    feed: 'history',
    short: 'Colorectal cancer recorded before the examination.',
    filledBy: `${recordedBefore} A code of a past cancer that is not recorded before leaves it open.`,
  },
  antithrombotics: {
    type: 'boolean',
    feed: 'history',
    short: 'Antithrombotic treatment recorded before the examination, and not ended before it.',
    filledBy: recordedBefore,
  },
  serratedPolyposis: {
    type: 'boolean',
    feed: 'history',
    short: 'Serrated polyposis syndrome recorded before the examination.',
    filledBy: recordedBefore,
  },
  familyHistoryOfColorectalCancer: {
    type: 'boolean',
    feed: 'history',
    short: 'A relative had colorectal cancer, recorded before the examination or at it.',
    filledBy:
      'Condition of a family history recorded before the examination date, or a yes/no observation of the examination. Absent where its date cannot decide, it is recorded that day or later, or a yes stands against a no. False where an observation says so, or in a complete history feed.',
  },
  earlierAdenoma: {
    type: 'boolean',
    feed: 'history',
    short: 'Adenoma at an earlier examination, recorded before this one.',
    filledBy: recordedBefore,
  },
  monthsSinceLastColonoscopy: {
    type: 'decimal',
    unit: 'mo',
    feed: 'history',
    short: 'Months from the last colonoscopy before this one.',
    filledBy:
      'Statement at the examination, else the latest colonoscopy of the same patient that was done on an earlier day. Absent where neither is found, a date is too coarse, or statements differ.',
  },
  lastExaminationInadequate: {
    type: 'boolean',
    feed: 'history',
    short: 'The last colonoscopy before this one was incomplete or badly prepared.',
    filledBy:
      'A yes/no observation of the examination, or the status of the last colonoscopy of the same patient: true where it was stopped. Absent otherwise, and where a yes stands against a no.',
  },
} as const satisfies Record<string, Field>

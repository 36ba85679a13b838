import type { Meaning } from '../fhir/meaning.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import { course } from '../record/course.ts'
import { isWord } from '../record/words.ts'
import type { UsedDevice } from './devices.ts'
import type { Examination } from './examinations.ts'
import { isKnownYet } from './known.ts'
import type { Reading } from './reading.ts'
import { type Statement, settle, stated } from './settle.ts'
import { wordOf, yesOrNo } from './told-value.ts'

type Equipment = Pick<
  Colonoscopy,
  'instrument' | 'instrumentExchanged' | 'insufflation' | 'dye' | 'computerAidedDetection'
>
type Instrument = NonNullable<Equipment['instrument']>

/**
 * Colonoscope, insufflation and aids. Two kinds of colonoscope used mean that one was exchanged for the other, and nothing says
 * which came first: the kind with which the examination began is then not recorded, nor is it where an exchange is stated.
 */
export function readEquipment(examination: Examination, devices: readonly UsedDevice[], reading: Reading): Equipment {
  const { observations, trail } = examination
  let exchanged: Statement<boolean>[] | undefined
  let insufflation: Statement<NonNullable<Equipment['insufflation']>>[] | undefined
  let dye: Statement<boolean>[] | undefined
  let detection: Statement<boolean>[] | undefined
  for (const told of observations.equipment) {
    if (!isKnownYet(told.resource, reading.asOf, examination.zone)) continue
    const { fact } = told.code
    if (fact === 'instrument-exchanged')
      exchanged = stated(exchanged, yesOrNo('instrumentExchanged', told, examination, reading), told)
    else if (fact === 'dye') dye = stated(dye, yesOrNo('dye', told, examination, reading), told)
    else if (fact === 'computer-aided-detection')
      detection = stated(detection, yesOrNo('computerAidedDetection', told, examination, reading), told)
    else if (fact === 'insufflation') {
      const word = wordOf('insufflation', told, course.insufflation.values, examination, reading)
      insufflation = stated(insufflation, word, told)
    }
  }
  let instruments: Statement<Instrument>[] | undefined
  for (const { told, element } of devices) {
    const { fact } = told.code
    if (fact === 'dye') dye = stated(dye, true, told, element)
    else if (fact === 'computer-aided-detection') detection = stated(detection, true, told, element)
    else instruments = stated(instruments, instrumentOf(told.code), told, element)
  }
  const first = instruments?.[0]
  const other = instruments?.find(({ value }) => value !== first?.value)
  if (other !== undefined) exchanged = stated(exchanged, true, other.told, other.element)
  const isExchanged = settle('instrumentExchanged', exchanged, examination)
  const isSure = first !== undefined && other === undefined && isExchanged !== true
  if (isSure) trail?.note('instrument', first.told.resource, 'own element', first.element ?? 'Procedure.usedCode')
  return {
    instrument: isSure ? first.value : undefined,
    instrumentExchanged: isExchanged,
    insufflation: settle('insufflation', insufflation, examination),
    dye: settle('dye', dye, examination),
    computerAidedDetection: settle('computerAidedDetection', detection, examination),
  }
}

function instrumentOf({ words }: Meaning): Instrument | undefined {
  const word = words.get('instrument')
  return isWord(word, course.instrument.values) ? word : undefined
}

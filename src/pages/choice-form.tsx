import type { Unit } from '../config.ts'
import type { MeasureDefinition } from '../measures/measure.ts'
import type { Choice } from './choice.ts'
import { measuresByTopic } from './topics.ts'

/** Measure, unit and period, asked by GET so that an answer has an address that can be kept. */
export function ChoiceForm({
  choice,
  measures,
  units,
}: {
  choice: Choice
  measures: readonly MeasureDefinition[]
  units: readonly Unit[]
}) {
  return (
    <form method="get" action="" aria-label="Choose measure, unit and period">
      <label class="wide">
        <span>Measure</span>
        <select name="measure">
          {measuresByTopic(measures).map(([topic, listed]) => (
            <optgroup label={topic}>
              {listed.map(({ id, title }) => (
                <option value={id} selected={id === choice.measure}>
                  {title}
                </option>
              ))}
            </optgroup>
          ))}
        </select>
      </label>
      <label>
        <span>Unit</span>
        <select name="unit">
          <option value="" selected={choice.unit === ''}>
            All units together
          </option>
          {units.map(({ id, name }) => (
            <option value={id} selected={id === choice.unit}>
              {name}
            </option>
          ))}
        </select>
      </label>
      <Month name="from" label="From month" value={choice.from} />
      <Month name="to" label="To month" value={choice.to} />
      <button type="submit">Show</button>
    </form>
  )
}

/** Browsers without a month picker show a text field: hence pattern and title. */
function Month({ name, label, value }: { name: string; label: string; value: string }) {
  return (
    <label>
      <span>{label}</span>
      <input
        type="month"
        name={name}
        value={value}
        required
        pattern="[0-9]{4}-[0-9]{2}"
        title="Year and month, such as 2026-01"
      />
    </label>
  )
}

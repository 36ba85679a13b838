/** What the wiring form holds, as text. */
export interface WiringChoice {
  readonly periodStart: string
  readonly periodEnd: string
  readonly source: string
}

/** Asks for a period and, where there are several, a source. */
export function WiringForm({ choice, sources }: { choice: WiringChoice; sources: readonly string[] }) {
  return (
    <form action="/wiring" method="get" aria-label="What to look at">
      <label>
        <span>First day</span>
        <input type="date" name="periodStart" value={choice.periodStart} required />
      </label>
      <label>
        <span>Last day</span>
        <input type="date" name="periodEnd" value={choice.periodEnd} required />
      </label>
      {sources.length > 1 ? (
        <label class="wide">
          <span>Source</span>
          <select name="source">
            {sources.map((id) => (
              <option value={id} selected={id === choice.source}>
                {id}
              </option>
            ))}
          </select>
        </label>
      ) : null}
      <button type="submit">Look at the wiring</button>
    </form>
  )
}

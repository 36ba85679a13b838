/** A table in a frame of its own, which scrolls sideways and which the keyboard can reach. */
export function Frame({ id, caption, children }: { id: string; caption: string; children?: unknown }) {
  return (
    <section class="frame wiring" tabindex={0} aria-labelledby={id}>
      <table>
        <caption id={id}>{caption}</caption>
        {children}
      </table>
    </section>
  )
}

export function HeadRow({ columns }: { columns: readonly string[] }) {
  return (
    <thead>
      <tr>
        {columns.map((column, index) => (
          <th scope="col" class={index === 0 ? 'who' : undefined}>
            {column}
          </th>
        ))}
      </tr>
    </thead>
  )
}

/** References as Type/id, one a line. */
export function References({ of }: { of: readonly string[] }) {
  return (
    <>
      {of.map((reference) => (
        <span class="reference">{reference}</span>
      ))}
    </>
  )
}

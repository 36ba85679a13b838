import type { GuideExample } from '../wiring/guide/guide.ts'

/** A piece of JSON, which may be wider than the page and then scrolls by itself. */
export function Json({ caption, value }: { caption?: string; value: unknown }) {
  return (
    <figure class="json">
      {caption === undefined ? null : <figcaption>{caption}</figcaption>}
      <pre tabindex={0}>{JSON.stringify(value, null, 2)}</pre>
    </figure>
  )
}

/** The example of one fact: folded, as most readers want the ways. */
export function ExampleDetails({ example, field }: { example: GuideExample | undefined; field: string }) {
  if (example === undefined) return null
  if (example.id === 'base')
    return (
      <p>
        Example: <a href="#example-base">the base itself</a> fills it.
      </p>
    )
  const { title, settings, changes, resources, gives } = example
  return (
    <details>
      <summary>
        Example: {title} <span class="quiet">({field})</span>
      </summary>
      {settings ? <Json caption="Settings of the source" value={settings} /> : null}
      {Object.entries(changes).map(([reference, elements]) => (
        <Json caption={`In ${reference}`} value={elements} />
      ))}
      {resources.map((resource) => (
        <Json value={resource} />
      ))}
      <Json caption="What the record then says" value={gives} />
    </details>
  )
}

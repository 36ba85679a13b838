import type { GuideCodes } from '../wiring/guide/code-lists.ts'
import type { GuideEntry, GuideWay } from '../wiring/guide/guide.ts'

/** One fact: what it is, and the ways in which it may come. Its name is its anchor. */
export function GuideField({ entry, children }: { entry: GuideEntry; children?: unknown }) {
  const { field, type, short, filledBy, unit, words, feed, ways } = entry
  return (
    <section class="fact" id={field} aria-labelledby={`name-${field}`}>
      <h3 id={`name-${field}`}>{field}</h3>
      <p>{short}</p>
      <dl class="terms">
        <Term name="Type">{unit === undefined ? type : `${type}, in ${unit}`}</Term>
        {words ? <Term name="Words">{words.join(', ')}</Term> : null}
        <Term name="Filled by">{filledBy}</Term>
        {feed ? (
          <Term name="Feed">
            <a href="#absence">{feed}</a>
          </Term>
        ) : null}
      </dl>
      <ol class="ways">
        {ways.map((way) => (
          <WayItem way={way} />
        ))}
      </ol>
      {children}
    </section>
  )
}

function Term({ name, children }: { name: string; children?: unknown }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  )
}

function WayItem({ way: { elements, rungs, codes, note } }: { way: GuideWay }) {
  return (
    <li>
      {inBrief(elements).map((line) => (
        <span class="elements">{line}</span>
      ))}
      {rungs.length > 0 ? <span class="quiet">Rung: {rungs.join('; ')}.</span> : null}
      {note === undefined ? null : <p>{note}</p>}
      {codes.length > 0 ? (
        <ul>
          {codes.map((one) => (
            <li>
              {one.on}: <Codes codes={one} />
            </li>
          ))}
        </ul>
      ) : null}
    </li>
  )
}

/** Elements of one parent on one line, the parent named once. */
function inBrief(elements: readonly string[]): string[] {
  const parentOf = (element: string) => element.slice(0, element.lastIndexOf('.') + 1)
  return [...Map.groupBy(elements, parentOf)].map(
    ([parent, ofParent]) => `${parent}${ofParent.map((one) => one.slice(parent.length)).join(', ')}`,
  )
}

/** Codes of ours and of FHIR one by one; longer lists by their name, where they stand whole. */
function Codes({ codes: { list, codes } }: { codes: GuideCodes }) {
  if (list !== undefined && !list.startsWith('CodeSystem-')) return <a href={`#${list}`}>{list.replace('-', ' ')}</a>
  const words = codes.map(({ code }) => code).join(', ')
  if (list === undefined)
    return (
      <>
        {words} of {codes[0]?.system}
      </>
    )
  return (
    <>
      <a href={`#${list}`}>ours</a>: {words}
    </>
  )
}

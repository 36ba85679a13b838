import { html, raw } from 'hono/html'
import { caution } from '../report/in-words.ts'
import { stylesheet } from './stylesheet.ts'

/** Three intervals on one line: the service's mark, drawn here and nowhere fetched. */
const mark = [
  '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 32 32">',
  '<rect width="32" height="32" rx="7" fill="#0b5563"/>',
  '<path d="M7 9h14M11 16h14M6 23h10" stroke="#fff" stroke-opacity=".55" stroke-width="3" stroke-linecap="round"/>',
  '<g fill="#fff"><circle cx="14" cy="9" r="3"/><circle cx="19" cy="16" r="3"/><circle cx="11" cy="23" r="3"/></g>',
  '</svg>',
].join('')
const favicon = `data:image/svg+xml,${encodeURIComponent(mark)}`

const places = [
  { path: '/', name: 'Ask' },
  { path: '/measures', name: 'Measures' },
  { path: '/wiring', name: 'Wiring' },
  { path: '/wiring/guide', name: 'Wiring guide' },
] as const

interface Framed {
  readonly title: string
  /** Which of the places the page is. */
  readonly place: (typeof places)[number]['path']
  readonly form?: unknown
  readonly content: unknown
}

/** The whole document around a page: head, name, places, form, content, caution. */
export function pageFrame({ title, place, form, content }: Framed) {
  return html`<!doctype html>${(
    <html lang="en-GB">
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="color-scheme" content="light" />
        <title>{`${title} · Colonoscopy measures`}</title>
        <link rel="icon" type="image/svg+xml" href={favicon} />
        <style>{raw(stylesheet)}</style>
      </head>
      <body>
        <a class="skip" href="#answer">
          Skip to the content
        </a>
        <div class="masthead">
          <p class="name">
            <a href="/">Colonoscopy measures</a>
          </p>
          <nav class="places" aria-label="Places">
            {places.map(({ path, name }) => (
              <a href={path} aria-current={path === place ? 'page' : undefined}>
                {name}
              </a>
            ))}
          </nav>
          {form}
        </div>
        <main id="answer">{content}</main>
        <footer>
          <p>{caution}</p>
        </footer>
      </body>
    </html>
  )}`
}

import { describe, expect, it } from 'vitest'
import { connect, type PullOptions } from '../../src/source/connection.ts'
import { type Found, search } from '../../src/source/search.ts'
import { bundle, type Loopback, procedure, serve, sourceAt } from './loopback.ts'

const everything = { resourceType: 'Procedure', parameters: { code: '73761001' }, allows: () => true }

async function searchAt(
  server: Loopback,
  options: PullOptions = {},
  base = '/fhir',
): Promise<Found & { waits: number[] }> {
  const waits: number[] = []
  const sleep = async (milliseconds: number): Promise<void> => void waits.push(milliseconds)
  const connection = connect(sourceAt(server.origin + base), fetch, new AbortController().signal, {
    sleep,
    random: () => 0.5,
    now: () => Date.parse('2026-03-05T10:00:00Z'),
    ...options,
  })
  return { ...(await search(connection, everything)), waits }
}

const ids = (found: Found): unknown[] => found.rows.map(({ id }) => id)

// FHIR R4, RESTful API, 3.1.0.12 (paging) and 3.1.1.3 (search result bundles).
describe('paging', () => {
  it('follows next links that are absolute, relative to the root and relative to the request', async () => {
    const server = await serve(({ url }) => {
      if (url === '/fhir/Procedure?page=2')
        return { body: bundle([procedure('p2')], { next: '/fhir/Procedure?page=3' }) }
      if (url === '/fhir/Procedure?page=3') return { body: bundle([procedure('p3')], { next: '?page=4' }) }
      if (url === '/fhir/Procedure?page=4') return { body: bundle([procedure('p4')]) }
      return { body: bundle([procedure('p1')], { next: `${server.origin}/fhir/Procedure?page=2` }) }
    })
    const found = await searchAt(server)
    expect(ids(found)).toEqual(['p1', 'p2', 'p3', 'p4'])
    expect(found.incomplete).toEqual([])
    expect(server.asked).toHaveLength(4)
  })

  it('asks the configured server where next names another host, and never that host', async () => {
    const foreign = await serve(() => ({ body: bundle([procedure('stolen')]) }))
    const server = await serve(({ query }) => {
      if (query.get('ct') === 'abc')
        return { body: bundle([procedure('p2')], { next: `${foreign.origin}/inner/Procedure?ct=d` }) }
      if (query.get('ct') === 'd') return { body: bundle([procedure('p3')]) }
      return { body: bundle([procedure('p1')], { next: `${foreign.origin}/fhir?ct=abc` }) }
    })
    const found = await searchAt(server)
    expect(ids(found)).toEqual(['p1', 'p2', 'p3'])
    expect(server.asked.slice(1).map(({ url }) => url)).toEqual(['/fhir?ct=abc', '/fhir/Procedure?ct=d'])
    expect(foreign.asked).toEqual([])
    expect(found.notes).toEqual([
      'Source north: links to next pages name another address; they were asked at the configured one.',
    ])
  })

  it('keeps the cursor of a next link byte for byte', async () => {
    const cursor = '?ct=a%2Bb%3D%3D;c+d%2f'
    const server = await serve(({ url }) =>
      url.includes('ct=')
        ? { body: bundle([procedure('p2')]) }
        : { body: bundle([procedure('p1')], { next: `/fhir/Procedure${cursor}` }) },
    )
    await searchAt(server)
    expect(server.asked[1]?.url).toBe(`/fhir/Procedure${cursor}`)
  })

  it('stops at a link that was followed before and says that rows may be missing', async () => {
    const server = await serve(({ query }) =>
      query.get('page') === '2'
        ? { body: bundle([procedure('p2')], { next: '/fhir/Procedure?page=2' }) }
        : { body: bundle([procedure('p1')], { next: '/fhir/Procedure?page=2' }) },
    )
    const found = await searchAt(server)
    expect(ids(found)).toEqual(['p1', 'p2'])
    expect(found.incomplete).toEqual([
      'Source north: the search for Procedure by code went round in a circle and was stopped.',
    ])
  })

  it('stops after three pages that bring nothing new', async () => {
    let page = 0
    const server = await serve(() => ({ body: bundle([procedure('p1')], { next: `/fhir/Procedure?page=${++page}` }) }))
    const found = await searchAt(server)
    expect(server.asked).toHaveLength(4)
    expect(found.incomplete).toHaveLength(1)
  })

  it('stops at the page limit and says so', async () => {
    let page = 0
    const server = await serve(() => ({ body: bundle([procedure(`p${++page}`)], { next: `?page=${page}` }) }))
    const found = await searchAt(server, { maximumPages: 5 })
    expect(ids(found)).toHaveLength(5)
    expect(found.incomplete).toEqual([
      'Source north: the search for Procedure by code did not end within 5 pages and was stopped.',
    ])
  })

  it('says so when a link to the next page cannot be read', async () => {
    const server = await serve(() => ({
      body: bundle([procedure('p1')], { next: 'https://ehr.test:443:443/fhir?page=2' }),
    }))
    expect((await searchAt(server)).incomplete).toEqual([
      'Source north: the search for Procedure by code gave a link to its next page that cannot be read and was stopped.',
    ])
  })

  it('keeps the rows before a page that is refused', async () => {
    const server = await serve(({ query }) =>
      query.has('page') ? { status: 410, body: '' } : { body: bundle([procedure('p1')], { next: '?page=2' }) },
    )
    const found = await searchAt(server)
    expect(ids(found)).toEqual(['p1'])
    expect(found.refusal?.status).toBe(410)
    expect(found.incomplete).toEqual([
      'Source north: the search for Procedure by code was refused after 1 pages (status 410).',
    ])
  })

  it('says so when fewer rows came than the server announced', async () => {
    const server = await serve(() => ({
      body: { resourceType: 'Bundle', type: 'searchset', total: 57, entry: [{ resource: procedure('p1') }] },
    }))
    expect((await searchAt(server)).incomplete).toEqual([
      'Source north: the search for Procedure by code announced 57 rows and delivered 1.',
    ])
  })
})

describe('what a page may hold', () => {
  it.each([
    ['no entry', { resourceType: 'Bundle', type: 'searchset', total: 0 }, []],
    ['an empty entry list and a null total', { resourceType: 'Bundle', type: 'searchset', total: null, entry: [] }, []],
    [
      'entries without a resource',
      { resourceType: 'Bundle', type: 'searchset', entry: [null, {}, { resource: procedure('p1') }] },
      ['p1'],
    ],
    [
      'another Bundle type',
      { resourceType: 'Bundle', type: 'collection', entry: [{ resource: procedure('p1') }] },
      ['p1'],
    ],
    ['the one match itself', procedure('p1'), ['p1']],
  ])('reads a page with %s', async (_, body, expected) => {
    const server = await serve(() => ({ body }))
    const found = await searchAt(server)
    expect(ids(found)).toEqual(expected)
    expect(found.incomplete).toEqual([])
  })

  it('reads a body that starts with a byte order mark and is labelled as text', async () => {
    const body = `\uFEFF${JSON.stringify(bundle([procedure('p1')]))}`
    const server = await serve(() => ({ headers: { 'content-type': 'text/plain' }, body }))
    expect(ids(await searchAt(server))).toEqual(['p1'])
  })

  it('takes an error among the entries for missing rows, and a warning for a note', async () => {
    const outcome = (severity: string): unknown => ({
      resourceType: 'OperationOutcome',
      issue: [{ severity, code: 'processing' }],
    })
    const server = await serve(() => ({ body: bundle([procedure('p1'), outcome('error'), outcome('warning')]) }))
    const found = await searchAt(server)
    expect(ids(found)).toEqual(['p1'])
    expect(found.incomplete).toEqual([
      'Source north: the search for Procedure by code came with an error beside its rows.',
    ])
    expect(found.notes).toEqual(['Source north: the search for Procedure by code came with a warning.'])
  })

  it('takes an error in place of a Bundle for a refusal although the status is 200', async () => {
    const issue = [{ severity: 'error', code: 'processing', diagnostics: 'Jane Doe, born 1950' }]
    const server = await serve(() => ({ body: { resourceType: 'OperationOutcome', issue } }))
    const { refusal } = await searchAt(server)
    expect(refusal?.code).toBe('source-refused')
    expect(refusal?.message).not.toContain('Jane')
  })

  it('notes a parameter that the self link shows to have been ignored', async () => {
    const server = await serve(() => ({ body: bundle([], { self: 'https://ehr.test/fhir/Procedure?_count=200' }) }))
    expect((await searchAt(server)).notes).toEqual([
      'Source north: by its own account the server ignored code when asked for Procedure.',
    ])
  })
})

describe('faults', () => {
  it.each([
    ['a login page', '<!doctype html><title>Sign in</title>', 1],
    ['truncated JSON', '{"resourceType":"Bundle","entry":[{"resou', 3],
    ['null', 'null', 1],
    ['JSON that is no resource', '{"message":"nope"}', 1],
    ['another resource', '{"resourceType":"CapabilityStatement"}', 1],
    ['an entry that is no list', '{"resourceType":"Bundle","entry":{"resource":{}}}', 1],
  ])('calls %s with status 200 not FHIR', async (_, body, requests) => {
    const server = await serve(() => ({ headers: { 'content-type': 'text/html' }, body }))
    await expect(searchAt(server)).rejects.toMatchObject({ code: 'source-not-fhir' })
    expect(server.asked).toHaveLength(requests)
  })

  it.each([429, 500, 502, 503, 504])('asks again after status %i', async (status) => {
    let tries = 0
    const server = await serve(() =>
      ++tries === 1 ? { status, body: 'slow down' } : { body: bundle([procedure('p1')]) },
    )
    const found = await searchAt(server)
    expect(ids(found)).toEqual(['p1'])
    expect(found.waits).toHaveLength(1)
  })

  it('asks again after a connection that was cut', async () => {
    let tries = 0
    const server = await serve(() => ({ body: ++tries === 1 ? 'cut' : bundle([procedure('p1')]) }))
    expect(ids(await searchAt(server))).toEqual(['p1'])
  })

  it('gives up after three tries, naming source, resource and status but no address', async () => {
    const server = await serve(() => ({ status: 503, body: '' }))
    const failure = await searchAt(server).catch((error: unknown) => error)
    expect(failure).toMatchObject({
      code: 'source-unreachable',
      message:
        'Source north: Procedure could not be read: the server answered with status 503, also when asked again. Try later.',
    })
    expect(server.asked).toHaveLength(3)
  })

  it.each([400, 401, 403, 404, 501])('takes status %i for a refusal and does not ask again', async (status) => {
    const server = await serve(() => ({ status, body: { message: 'nope' } }))
    expect((await searchAt(server)).refusal?.status).toBe(status)
    expect(server.asked).toHaveLength(1)
  })

  it('does not follow a redirect', async () => {
    const foreign = await serve(() => ({ body: bundle([procedure('stolen')]) }))
    const server = await serve(() => ({
      status: 302,
      headers: { location: `${foreign.origin}/fhir/Procedure` },
      body: '',
    }))
    const { refusal } = await searchAt(server)
    expect(refusal?.status).toBe(302)
    expect(refusal?.message).toContain('redirects elsewhere')
    expect(foreign.asked).toEqual([])
  })

  it('ends a reading that takes too long', async () => {
    const server = await serve(() => ({ body: 'hang' }))
    await expect(searchAt(server, { timeoutMilliseconds: 100 })).rejects.toMatchObject({ code: 'source-timeout' })
  })

  it('says that a server which is not there cannot be reached', async () => {
    const nobody: Loopback = { origin: 'http://127.0.0.1:1', asked: [] }
    await expect(searchAt(nobody)).rejects.toMatchObject({ code: 'source-unreachable' })
  })
})

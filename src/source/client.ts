import { Client } from 'fhir-kit-client'
import type { Connection } from './connection.ts'
import { request } from './request.ts'

/**
 * A FHIR client for one resource type of the source. The library writes the requests; its own transport is replaced, as
 * that follows redirects and links to any host, never waits nor repeats, and puts whole addresses into its errors.
 */
export function clientFor(connection: Connection, resourceType: string): Client {
  const client = new Client({
    baseUrl: connection.source.baseUrl,
    customHeaders: {
      accept: 'application/fhir+json, application/json;q=0.9',
      // An ignored parameter must be an error rather than a wrong answer; a server may disregard this, so rows are checked too.
      prefer: 'handling=strict',
      'cache-control': 'no-cache',
    },
  })
  client.httpClient.request = (_method, url) =>
    request(connection, client.httpClient.expandUrl(url), resourceType, client.customHeaders)
  return client
}

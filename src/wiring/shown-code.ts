/** What codes look like; a name or a sentence has blanks or commas. */
const codeLike = /^[A-Za-z0-9._:/-]{1,40}$/
/** What addresses of code systems look like. */
const addressLike = /^[A-Za-z0-9._:/#?=&%~+-]{1,200}$/
/** A day with its parts apart, in either order, of the last two hundred years. */
const dayLike =
  /(?:1[89]|20)\d\d[-./](?:0?[1-9]|1[0-2])[-./](?:0?[1-9]|[12]\d|3[01])(?!\d)|(?<!\d)\d{1,2}[-./]\d{1,2}[-./](?:1[89]|20)\d\d/

/**
 * Whether a code and its system can be shown although too few patients share them: what looks like words or holds a day may be
 * somebody's name or date of birth, put where a code belongs.
 */
export const looksLikeCode = (system: string | undefined, code: string): boolean =>
  codeLike.test(code) && !dayLike.test(code) && (system === undefined || addressLike.test(system))

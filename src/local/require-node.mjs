// Loaded before any TypeScript file, because an older Node fails on those with a message that helps nobody.
const [major = 0, minor = 0] = process.versions.node.split('.').map(Number)
if (major < 22 || (major === 22 && minor < 12)) {
  console.error(`Node 22.12 or newer is needed; this is ${process.versions.node}.`)
  process.exit(1)
}

import type { Reporter, TestModule } from 'vitest/node'

/** Prints `N passed, N failed, N skipped` as the very last line, whatever the default reporter printed before. */
export default class ClosingLine implements Reporter {
  onTestRunEnd(modules: ReadonlyArray<TestModule>): void {
    const count = { passed: 0, failed: 0, skipped: 0, pending: 0 }
    for (const module of modules) {
      for (const test of module.children.allTests()) count[test.result().state]++
      if (module.errors().length > 0) count.failed++
    }
    const line = `${count.passed} passed, ${count.failed} failed, ${count.skipped} skipped`
    process.on('exit', () => console.log(line))
  }
}

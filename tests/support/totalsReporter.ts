import type { Reporter, SerializedError, TestModule, TestRunEndReason } from 'vitest/node';

export interface Totals {
  readonly passed: number;
  readonly failed: number;
}

/** Sums what Vitest ran, over several runs. */
export class TotalsReporter implements Reporter {
  #passed = 0;
  #failed = 0;

  get totals(): Totals {
    return { passed: this.#passed, failed: this.#failed };
  }

  onTestRunEnd(
    modules: readonly TestModule[],
    unhandled: readonly SerializedError[],
    reason: TestRunEndReason,
  ): void {
    const before = this.#failed;
    for (const module of modules) {
      for (const test of module.children.allTests()) {
        const { state } = test.result();
        // A test that was skipped or never ran shows nothing, so it is no pass.
        if (state === 'passed') this.#passed += 1;
        else this.#failed += 1;
      }
      // A file that can not be loaded has no tests to fail; a failed hook fails its suite only.
      this.#failed += module.errors().length;
      for (const suite of module.children.allSuites()) this.#failed += suite.errors().length;
    }
    this.#failed += unhandled.length;
    if (reason !== 'passed' && this.#failed === before) this.#failed += 1;
  }
}

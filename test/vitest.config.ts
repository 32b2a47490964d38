import { defineConfig } from 'vitest/config'

export default defineConfig({
  resolve: { conditions: ['stepwitness-source'] },
  ssr: { resolve: { conditions: ['stepwitness-source'] } },
  test: {
    root: new URL('..', import.meta.url).pathname,
    include: ['test/**/*.test.ts'],
    testTimeout: 60_000,
    hookTimeout: 120_000,
    pool: 'forks',
    maxWorkers: 2,
  },
})

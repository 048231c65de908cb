import type { CacheExchangeOpts } from '@urql/exchange-graphcache'

/** What the cache cannot know from the answers alone. */
export const cacheRules: CacheExchangeOpts = {}

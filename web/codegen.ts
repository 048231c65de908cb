import type { CodegenConfig } from '@graphql-codegen/cli'
import { addTypenameSelectionDocumentTransform } from '@graphql-codegen/client-preset'

/** Types for every document under src, and the manifest of operations that the service accepts. */
const config: CodegenConfig = {
  schema: '../graph/schema/*.graphqls',
  documents: ['src/**/*.{ts,tsx}', '!src/graphql/gen/**'],
  ignoreNoDocuments: true,
  generates: {
    'src/graphql/gen/': {
      preset: 'client',
      // graphcache needs __typename, and the stored text must be what it asks for.
      documentTransforms: [addTypenameSelectionDocumentTransform],
      presetConfig: {
        fragmentMasking: { unmaskFunctionName: 'read' },
        persistedDocuments: { mode: 'embedHashInDocument', hashPropertyName: 'hash', hashAlgorithm: 'sha256' },
      },
      config: {
        strictScalars: true,
        useTypeImports: true,
        enumsAsTypes: true,
        scalars: {
          Time: 'string',
          Date: 'string',
          Column: { input: '(number | null)[]', output: '(number | null)[]' },
        },
      },
    },
  },
}
export default config

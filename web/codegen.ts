import type { CodegenConfig } from '@graphql-codegen/cli'
import { addTypenameSelectionDocumentTransform } from '@graphql-codegen/client-preset'

/** Types for every document under src, and the manifest of operations that the service accepts. */
const config: CodegenConfig = {
  schema: '../graph/schema/*.graphqls',
  documents: 'src/**/*.graphql',
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
          ID: 'string',
          Time: 'string',
          Date: 'string',
          Sha256: 'string',
          Json: 'unknown',
          Column: '(number | null)[]',
          Columns: '(number[] | null)[]',
          IdColumn: '(string | null)[]',
          TextColumn: '(string | null)[]',
        },
      },
    },
  },
}
export default config

import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { UndoMoveDocument } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'

/** Takes a move back as a whole; what was touched since is named instead. */
export function UndoMove({ move, onDone }: { move: string; onDone: () => void }) {
  const [{ fetching, error }, undo] = useMutation(UndoMoveDocument)
  return (
    <>
      <button
        type="button"
        className="plain"
        disabled={fetching}
        onClick={async () => {
          const { data } = await undo({ input: { mutation: newId('mut'), id: move } })
          if (data) onDone()
        }}
      >
        Take it back
      </button>
      {error && <Failed error={error} />}
    </>
  )
}

import { SIGNATURE_BOX } from '../../../trade/inspection/signature.ts'

/** The strokes of a signature, in the colour of the text around it. */
export function SignatureDrawing({ drawing, name }: { drawing: string; name: string }) {
  const { width, height } = SIGNATURE_BOX
  return (
    <svg
      viewBox={`0 0 ${width} ${height}`}
      role="img"
      aria-label={`Signature of ${name}`}
      width={width / 2.5}
      height={height / 2.5}
      style={{ maxWidth: '100%', borderBottom: '1px solid var(--line-strong)' }}
      fill="none"
      stroke="currentColor"
      strokeWidth={4}
      strokeLinecap="round"
      strokeLinejoin="round"
    >
      <path d={drawing} />
    </svg>
  )
}

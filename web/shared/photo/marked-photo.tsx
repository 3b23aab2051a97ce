import { useState } from 'react'
import {
  markPath,
  markText,
  markWords,
  type PhotoMark,
  type Size,
  thicknessOn,
} from '../../../trade/inspection/photo-marks.ts'
import css from './marked-photo.module.css'

/** A picture with what was drawn on it laid over; the picture itself stays as it was taken. */
export function MarkedPhoto({
  src,
  alt,
  marks,
  size,
  fill,
}: {
  src: string
  alt: string
  marks: readonly PhotoMark[]
  /** Where it is known beforehand; else the picture says it when it is there. */
  size?: Size | undefined
  /** Cut to the frame, as a small picture in a list. */
  fill?: boolean
}) {
  const [seen, setSeen] = useState<Size | null>(null)
  const known = size ?? seen
  const words = marks.length > 0 ? `${alt}. Drawn on it: ${marks.map(markWords).join('; ')}` : alt
  return (
    <span className={css.frame} data-fill={fill || undefined}>
      <img
        src={src}
        alt={words}
        loading="lazy"
        width={size?.width}
        height={size?.height}
        onLoad={({ currentTarget: { naturalWidth: width, naturalHeight: height } }) =>
          setSeen({ width, height })
        }
      />
      {known && marks.length > 0 && <Marks marks={marks} size={known} fill={fill} />}
    </span>
  )
}

/** The marks alone, over whatever lies under them. A light edge keeps them readable on any picture. */
export function Marks({
  marks,
  size,
  fill,
}: {
  marks: readonly PhotoMark[]
  size: Size
  fill?: boolean | undefined
}) {
  const thick = thicknessOn(size)
  return (
    <svg
      className={css.marks}
      viewBox={`0 0 ${size.width} ${size.height}`}
      preserveAspectRatio={fill ? 'xMidYMid slice' : 'none'}
      aria-hidden="true"
      focusable="false"
    >
      {marks.map((mark, i) => {
        if (mark.shape === 'text') {
          const { x, y, height } = markText(mark, size)
          return (
            <text key={i} x={x} y={y} fontSize={height} strokeWidth={thick}>
              {mark.text}
            </text>
          )
        }
        const path = markPath(mark, size)
        return (
          <g key={i}>
            <path d={path} className={css.edge} strokeWidth={thick * 2} />
            <path d={path} strokeWidth={thick} />
          </g>
        )
      })}
    </svg>
  )
}

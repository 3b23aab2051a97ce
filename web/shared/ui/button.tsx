import { Button as AriaButton, type ButtonProps as AriaButtonProps } from 'react-aria-components'
import css from './button.module.css'

export interface ButtonProps extends AriaButtonProps {
  look?: 'main' | 'plain' | 'quiet' | 'danger'
  small?: boolean
}

export function Button({ look = 'plain', small = false, className, ...props }: ButtonProps) {
  return (
    <AriaButton
      {...props}
      className={`${css.button}${className && typeof className === 'string' ? ` ${className}` : ''}`}
      data-look={look}
      data-small={small || undefined}
    />
  )
}

/** A link that looks like a button; for going somewhere, not for doing something. */
export const buttonLink = css.button

import { Button as AriaButton, type ButtonProps as AriaButtonProps } from 'react-aria-components'
import css from './button.module.css'

export interface ButtonProps extends Omit<AriaButtonProps, 'isPending' | 'className'> {
  look?: 'main' | 'plain' | 'quiet' | 'danger'
  small?: boolean
  /** At work: pressing it again would do the same twice. */
  isPending?: boolean
}

export function Button({
  look = 'plain',
  small = false,
  isPending = false,
  isDisabled = false,
  ...props
}: ButtonProps) {
  return (
    <AriaButton
      {...props}
      isDisabled={isDisabled || isPending}
      className={css.button!}
      data-look={look}
      data-small={small || undefined}
      data-pending={isPending || undefined}
    />
  )
}

/** A link that looks like a button; for going somewhere, not for doing something. */
export const buttonLink = css.button

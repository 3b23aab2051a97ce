import type { FieldOperationInput } from '../../../server/field/operation-schema.ts'
import type { StoredStep } from '../offline/store.ts'
import { findItem } from '../../../trade/checklist/checklist.ts'

const WORDS: Readonly<Record<FieldOperationInput['command'], string>> = {
  'start-inspection': 'Inspection begun',
  'answer-item': 'Answer',
  'clear-answer': 'Answer taken back',
  'save-finding': 'Finding',
  'remove-finding': 'Finding removed',
  'refuse-make-safe': 'Signed refusal',
  'review-carried': 'Earlier finding answered',
  'add-space': 'Room added',
  'change-space': 'Room changed',
  'add-equipment': 'Equipment added',
  'change-equipment': 'Equipment changed',
  'retire-equipment': 'Equipment taken out of use',
  'decline-work': 'Work declined, signed',
  'describe-photo': 'Words and marks on a picture',
  'remove-photo': 'Picture removed',
  'note-inspection': 'Note',
  'choose-recorded': 'Choice between two recordings',
  'complete-inspection': 'Inspection finished',
}

/** What an operation is, in the words of the sheet. */
export function commandWords(operation: FieldOperationInput): string {
  const itemId = 'itemId' in operation.payload ? operation.payload.itemId : null
  const item = itemId ? findItem(itemId)?.title : null
  return item ? `${WORDS[operation.command]}: ${item}` : WORDS[operation.command]
}

export const STEP_WORDS: Readonly<Record<StoredStep['step'], string>> = {
  'start-travel': 'On the way',
  arrive: 'Arrived',
  finish: 'Left the home',
}

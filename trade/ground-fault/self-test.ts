import { addMonths, type Day, day } from '../dates.ts'

/** Class A receptacle devices made from this day on test themselves. UL 943, in force 2015-06-29. */
export const SELF_TEST_FROM = day('2015-06-29')

/** Older stock stays acceptable; null where the device's date is not known. */
export function selfTestExpected(manufacturedOn: Day | null): boolean | null {
  return manufacturedOn === null ? null : manufacturedOn >= SELF_TEST_FROM
}

/** Test button, every month, self-testing or not: consumer safety advice and the devices' own instructions. */
export const BUTTON_TEST_MONTHS = 1

/** First monthly test after a day, counted from the anchor so that the 31st comes back after a short month. */
export function nextButtonTest(anchor: Day, after: Day): Day {
  let months = BUTTON_TEST_MONTHS
  while (addMonths(anchor, months) <= after) months += BUTTON_TEST_MONTHS
  return addMonths(anchor, months)
}

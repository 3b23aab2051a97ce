/** Every word on the pages behind a private link: plain, for somebody of eighty who has never heard of us. */
export const en = {
  call: 'Call us',
  mail: 'Write to us',
  footer: 'This page is for you alone: whoever has its address can open it.',
  preferencesLink: 'What we write to you about, and in which language',
  back: 'Back to your page',
  languageSaved: 'From now on we write to you in English.',
  // The other language, said in itself.
  otherLanguage: 'Español',
  otherLanguageCode: 'es',
  fault: 'Something is not right yet',
  // What is due
  dueTitle: 'What is due in your home',
  dueTitleMany: 'What is due in your homes',
  dueIntro: 'What we know from our visits, and what you can do about it.',
  nothingDue: 'Nothing is due at the moment.',
  nothingDueMore: 'We write to you again when something is. You can always ask for a visit.',
  noHome: 'No home stands under your name at the moment. If that is not right, please call us.',
  due: 'Due',
  overdue: 'Past its date',
  assumed: 'This date is worked out, not read off the device.',
  askedAlready: 'You asked us for a visit. We will agree on a time with you.',
  bookedAlready: 'A visit is booked; we see to this then.',
  restingUntil: 'You asked us not to remind you of this until {date}.',
  danger:
    'Do not use or touch this part until it is put right. If you smell burning, see sparks or feel a shock, get everybody out and call 911.',
  // Ask for a visit
  askTitle: 'Ask for a visit',
  askIntro:
    'Choose a time that is free now, or tell us what suits you. Nothing is booked until we confirm it.',
  about: 'What it is about',
  aboutOther: 'Something else',
  freeTimes: 'Free times',
  askedOn:
    'You asked us for a visit on {date}. We call you or write to you to agree on a time; you need not ask again.',
  noFreeTimes: 'There is no free time in the next two weeks; tell us what suits you.',
  noneOfThese: 'None of these',
  preferredDays: 'Days that suit you',
  preferredDaysHint: 'For example: Tuesdays and Thursdays',
  note: 'Anything that we should know',
  ask: 'Ask for this visit',
  // About one thing
  replacedTitle: 'It has been replaced',
  replacedIntro: 'Look at the back of the new device: its date of manufacture is printed there.',
  replacedCaution: {
    alarm:
      'Stand on something steady, or ask somebody to help you. If the alarm is wired to the house supply, switch its circuit off first; if you are not sure, leave it to a licensed electrician. Press the test button of the new alarm: it has to sound.',
    'surge-protector':
      'A protector at the panel is wired to parts that stay live even with the main switch off: they can kill. Leave that work to a licensed electrician. Here you only tell us that it has been done.',
  } as Record<string, string>,
  caution: {
    'alarm-end-of-life':
      'Leave the old alarm in its place until the new one is up, and press its test button today. An alarm that stays silent warns nobody: replace it at once.',
    'alarm-undated':
      'Leave the alarm in its place until a new one is up, and press its test button today. An alarm that stays silent warns nobody: replace it at once.',
    'alarm-battery':
      'Stand on something steady, or ask somebody to help you. Press the test button afterwards: the alarm has to sound.',
    'surge-failed':
      'Do not open the panel: parts of it stay live even with the main switch off. Electricity works on as usual, but your devices are not protected in a thunderstorm.',
    'surge-check': 'Only look, from outside. Do not open the panel.',
    'surge-after-event': 'Only look, from outside. Do not open the panel.',
  } as Record<string, string>,
  manufacturedOn: 'Date of manufacture of the new device',
  replacedOn: 'Day on which it was replaced',
  sameKind: 'It is of the same kind as the old one',
  replaced: 'Save the new date',
  batteryTitle: 'I changed the battery',
  batteryOn: 'Day on which you changed it',
  save: 'Save',
  checkedTitle: 'I looked at it',
  indicator: 'The lamp or window on the device shows',
  indicatorGood: 'that it protects (usually green)',
  indicatorDark: 'nothing, red, or a fault',
  correctedTitle: 'It has been put right',
  correctedBy: 'Who did it, and when',
  correctedCaution:
    'Electrical work is for a licensed electrician, and your town may want a permit and a look at it. We look at it too when we are there next.',
  snoozeTitle: 'Remind me later',
  snoozeFor: 'Do not remind me for',
  lengths: {
    'three-days': 'three days, until {date}',
    'one-week': 'one week, until {date}',
    'one-month': 'one month, until {date}',
    'three-months': 'three months, until {date}',
    'six-months': 'six months, until {date}',
  },
  limitedBy: {
    danger: 'Somebody could get hurt, so we ask you again after a week at the latest.',
    protection:
      'It protects you badly or not at all after its date, so we do not wait much longer than that.',
  },
  snooze: 'Remind me later',
  declineDanger:
    'Somebody could get hurt. We note your decision and ask you again in a month. Until it is put right: do not use that part, and tell everybody who lives there.',
  declineTitle: 'I do not want this done',
  declineReason: 'Why, if you like to say',
  declineName: 'Your name',
  declineAcknowledge: 'I have understood what you told me about this, and I decide against it.',
  decline: 'Decline',
  notMineTitle: 'This home is not mine any more',
  notMineIntro:
    'Then we stop writing to you about it, and our office sees that you told us. What is known of the home stays with us for whoever lives there. You can take it back for 30 days.',
  notMineWhy: 'What happened?',
  notMineWhys: {
    sold: 'I sold it',
    moved: 'I moved out',
    never: 'I never lived there and do not own it',
  },
  notMine: 'It is not mine any more',
  // Visit
  visitTitle: 'Your visit',
  day: 'Day',
  arrival: 'Arrival',
  between: 'between {from} and {to}',
  address: 'Address',
  who: 'Who comes',
  minutes: 'How long',
  aboutMinutes: 'about {minutes} minutes',
  visitStates: {
    booked: 'Booked',
    travelling: 'Our technician is on the way.',
    'on-site': 'Our technician is at your home.',
    finished: 'This visit has taken place.',
    cancelled: 'This visit was cancelled.',
    'no-access': 'We came and could not get in.',
  },
  confirmTitle: 'Will somebody be at home?',
  confirmIntro: 'Please make sure that the electrical panel and the alarms can be reached.',
  confirm: 'Yes, somebody will be there',
  confirmed: 'You told us that somebody will be at home.',
  moveTitle: 'Ask for another time',
  cancelTitle: 'Ask to cancel',
  cancelReason: 'Why, if you like to say',
  cancel: 'Ask to cancel',
  // Report
  reportTitle: 'Your inspection report',
  reportPdf: 'Keep it as a PDF',
  reportNewer: 'There is a newer version of this report, of',
  reportNewerMore: 'We sent it to you in a message of its own.',
  reportAsk: 'Ask for a visit about this report',
  // Preferences
  preferencesTitle: 'What we write to you about',
  preferencesIntro: 'Bookings, reports and warnings of a hazard always reach you. The rest is your choice.',
  reminders: 'Reminders of what is due in your home',
  topicsTitle: 'Remind me of',
  topics: {
    'about-alarms': 'Smoke and carbon monoxide alarms',
    'about-surge': 'The surge protector',
    'about-inspections': 'The next inspection',
    'about-findings': 'Things that we found and that are not dangerous',
    'about-estimates': 'Estimates that you have not answered',
  },
  topicsCaution:
    'An alarm that is too old may not wake anybody. If you do not want to be reminded, write the date on the alarm and press its test button every month.',
  tips: 'Safety tips four times a year',
  language: 'Language',
  saved: 'Your choice is saved.',
  // Unsubscribe
  stopTitle: 'Stop these messages?',
  stopIntro: {
    reminder: 'You will get no more reminders of what is due in your home.',
    tips: 'You will get no more safety tips.',
  },
  stopStays: 'Bookings, reports and warnings of a hazard still reach you.',
  stop: 'Stop them',
  stopped: 'You get no more of these messages.',
  // Thanks
  thanksTitle: 'Thank you',
  takeBackTitle: 'Was that a mistake?',
  takeBack: 'Take it back',
  takeBackCall: 'If something is wrong with it, please call us.',
  leftTitle: 'You told us that this home is not yours any more',
  leftIntro: 'We do not write to you about it. If that was a mistake:',
  leftTakeBack: 'It is mine after all',
  whatNow: 'What happens now',
  askNow: 'Ask for a visit',
  thanks: {
    requested:
      'We have your request. We call you or write to you to agree on a time; until then nothing is booked.',
    replaced: 'We noted that “{label}” was replaced on {date}, by one that was made on {made}.',
    battery: 'We noted that the battery of “{label}” was changed on {date}.',
    checked: 'We noted that you looked at “{label}” today and that it protects.',
    failed: 'Then it no longer protects and should be replaced. Ask for a visit, or call us.',
    corrected: 'We noted that it has been put right. When we are there next, we look at it.',
    snoozed: 'We do not remind you of this until {date}.',
    declined:
      'We noted your decision, {name}. We do not remind you of this any more. If you change your mind, call us.',
    'declined-danger':
      'We noted your decision, {name}. Because somebody could get hurt, we ask you again on {date}.',
    'not-mine': 'We stop writing to you about {address}.',
    already: 'We know that already: nothing was changed, and there is nothing more for you to do.',
    'taken-back': 'It is as it was before.',
    'call-to-take-back': 'That can no longer be taken back here. Please call us, and we put it right.',
    confirmed: 'Then we see you there.',
    moving: 'We have your wish. The visit stays as it is until we agree on another time.',
    cancelling: 'We have your wish and call you to make sure. Until then the visit stays as it is.',
  },
  next: {
    replaced:
      'We write to you again before {end}, when the new one comes to its end. When we are there next, we look at it.',
    'replaced-undated': 'When we are there next, we look at it.',
    battery:
      'We ask you again in about a year, or sooner when the whole alarm has to go. When an alarm chirps once a minute, its battery is low: change it at once.',
    checked: 'We ask you to look again in time.',
    failed: 'Do not open the panel: parts of it stay live even with the main switch off.',
    corrected:
      'If it has not been done by a licensed electrician, please do not use that part until we have seen it.',
    danger: 'Until it is put right: do not use or touch that part, and tell everybody who lives there.',
    'not-mine': 'Our office sees that you told us. You can take it back until {date}.',
    'not-mine-visit': 'A visit is still booked there: we call you about it.',
  },
  // Problems
  problems: {
    'not-found': [
      'This page does not exist',
      'Please check that the whole address was copied from our message.',
    ],
    'link-expired': [
      'This page is no longer open',
      'Its link has run out or was withdrawn. Call us and we send you a new one.',
    ],
    'link-withdrawn': [
      'We closed this page',
      'Our office withdrew its address, so that nobody else can use it. Nothing of yours is lost. Call us and we send you a new one.',
    ],
    'too-many-requests': ['One moment, please', 'That was a lot at once. Wait a minute and try again.'],
    other: ['That did not work', 'Nothing was changed. Please try again, or call us.'],
  } as Record<string, readonly [string, string]>,
  errors: {
    form: 'The form was open too long or was changed. Please send it again.',
    taken: 'That time was taken a moment ago. Please choose another one.',
    worn: 'An alarm made on that day has come to its end already ({date}). Please look at the date on the new one again.',
    tooLongAgo: 'That is a long time ago: the old one was looked at on {date}. Please give the day again.',
    future: 'That day is still to come.',
    tooOld: 'That is not later than the date of the old device, {date}. Please look at the new one again.',
    beforeMade: 'The device cannot have been fitted before it was made.',
    noDay: 'Please give a day, such as 2026-03-31.',
    acknowledge: 'Please tick the box, so that we know you have read it.',
    name: 'Please give your name.',
    who: 'Please say who put it right, and when.',
    noTime: 'Please choose a free time, or say which days suit you.',
    choose: 'Please choose one.',
    tooLong: 'That is too long; a few sentences are enough.',
    over: 'That visit can no longer be changed here. Please call us.',
  },
}
export type PageWords = typeof en

/**
 * The usual safety words, shown before the work they belong to. They remind; they do not replace the company's own
 * procedure, the rules for work near live parts (NFPA 70E, OSHA 29 CFR 1910.333) or local rules.
 */
export const CAUTIONS = {
  meter:
    'The meter and its seal belong to the utility. Open or unseal nothing without its permission; report a broken ' +
    'seal or glass. Everything ahead of the service disconnect stays live.',
  coverOff:
    'Leave the cover on when it is damp, scorched, buzzing or blocked, or when a screw may pierce wiring. Test for ' +
    'voltage, with the tester proven on a known source before and after. The line side stays live with the main off.',
  overhead:
    'Judge heights from the ground. Keep ladders, poles and yourself away from the drop; a damaged drop is the ' +
    "utility's to make safe.",
  secondSource:
    'Expect a second source: solar, battery, generator or a shared neutral can keep parts live with the main off.',
  electrode:
    'Do not open a grounding electrode conductor or a water pipe with the service live: it can carry current.',
  gas: 'Smell gas: leave, touch no switch, call the gas utility from outside.',
  receptacle:
    'A plug-in tester cannot see a neutral joined to ground or ground and neutral swapped: confirm with a meter to a ' +
    'known ground. Switch off and test for voltage before a device is taken out of its box.',
  groundFault:
    'A plug-in tester cannot trip a device on an ungrounded circuit: use its own button. Do not reset a device that ' +
    'trips again and again.',
  alarmTest:
    'Tell the people in the home, and any monitoring service, before alarms are sounded. Never use a flame.',
  water: 'Keep away from standing water near energised equipment until the supply is off.',
} as const

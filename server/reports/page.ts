import Handlebars from 'handlebars'
import type { Severity } from '../../trade/verdict.ts'
import { SIGN_OF_SAFETY } from './colours.ts'
import type { ReportContent, ReportFinding, ReportPhoto } from './content.ts'
import { drawnSvg, drawnWords, signatureSvg, signSvg } from './page-drawings.ts'
import { REPORT_STYLE } from './page-style.ts'
import { REPORT_TEMPLATE } from './page-template.ts'
import {
  addressWords,
  countsOf,
  dayWords,
  factsOf,
  headingOf,
  inARow,
  inBrief,
  itemWords,
  leftOutByReason,
  photoWords,
  remarksOf,
  replaceWords,
  SEVERITY_NAMES,
  signedBy,
  TITLE,
} from './words.ts'

const handlebars = Handlebars.create()
handlebars.registerHelper('join', inARow)
handlebars.registerHelper('line', itemWords)
handlebars.registerHelper('sign', (severity: Severity | null) => signSvg(severity))
const template = handlebars.compile(REPORT_TEMPLATE, { strict: false })

/**
 * The report as a fragment of HTML with its own style: for the page behind a private link, and for the office to look at
 * before it is issued. Whatever people typed is escaped.
 * @param links.photoUrl where the reader of this page finds the picture
 */
export function reportPage(
  content: ReportContent,
  links: { photoUrl: (photo: ReportPhoto) => string },
): string {
  return template({
    style: REPORT_STYLE,
    content,
    title: TITLE,
    address: addressWords(content),
    answerSign: SIGN_OF_SAFETY[content.answer.safety],
    first: content.findings
      .flatMap((group) => group.findings)
      .filter(({ number }) => content.answer.first.includes(number))
      .map((finding) => ({ number: finding.number, heading: headingOf(finding), text: inBrief(finding) })),
    counts: countsOf(content),
    facts: factsOf(content),
    groups: content.findings.map((group) => ({
      ...group,
      findings: group.findings.map((finding) => shown(finding, links.photoUrl)),
    })),
    declined: content.workDeclined && {
      statement: content.workDeclined.statement,
      signedBy: signedBy(content.workDeclined),
      signature: signatureSvg(content.workDeclined),
    },
    devices: content.devices.map((device) => ({
      name: device.name,
      place: device.place,
      made: device.manufacturedOn && dayWords(device.manufacturedOn),
      replace: replaceWords(device),
      look: device.nextCheckOn && dayWords(device.nextCheckOn),
    })),
    settled: content.settled.map(({ text, foundOn, outcome, note }) => ({
      text,
      foundOn: foundOn && dayWords(foundOn),
      now: [outcome, note].filter(Boolean).join(', '),
    })),
    leftOut: leftOutByReason(content),
  })
}

function shown(finding: ReportFinding, photoUrl: (photo: ReportPhoto) => string) {
  return {
    number: finding.number,
    severity: finding.severity,
    heading: headingOf(finding),
    kind: [SEVERITY_NAMES[finding.severity], finding.area].filter(Boolean).join(' · '),
    text: finding.text,
    remarks: remarksOf(finding),
    signature: finding.refusal && signatureSvg(finding.refusal),
    photos: finding.photos.map((photo) => ({
      url: photoUrl(photo),
      alt: photoWords(finding, photo.caption) + drawnWords(photo),
      width: photo.width,
      height: photo.height,
      caption: photo.caption,
      drawn: drawnSvg(photo),
    })),
  }
}

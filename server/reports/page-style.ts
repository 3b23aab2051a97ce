import { SAFETY_COLOURS, SEVERITY_COLOURS } from './colours.ts'

const severities = Object.entries(SEVERITY_COLOURS)
  .map(([severity, colour]) => `.report .${severity}{--sign:${colour}}`)
  .join('\n')
const answers = Object.entries(SAFETY_COLOURS)
  .map(([safety, { ink, tint }]) => `.report .answer.${safety}{--sign:${ink};background:${tint}}`)
  .join('\n')

/** Paper stays white at night, too: it is read as it will be printed. Everything hangs under `.report`. */
export const REPORT_STYLE = `
.report{max-width:46rem;margin:0 auto;padding:1.25rem;background:#fff;color:#1c2630;font:1rem/1.55 "Source Sans 3",system-ui,sans-serif;color-scheme:light;overflow-wrap:anywhere}
.report h1{font-size:1.9rem;line-height:1.15;margin:0 0 .25rem}
.report h2{font-size:1.3rem;color:#0d4a5a;border-bottom:1px solid #cdd5da;padding-bottom:.3rem;margin:2.25rem 0 1rem}
.report h3{font-size:1.08rem;margin:1.5rem 0 .25rem}
.report h4{font-size:1.05rem;margin:0}
.report p{margin:.35rem 0}
.report .soft{color:#55626c}
.report .answer{display:flex;gap:1rem;border-left:5px solid var(--sign);border-radius:6px;padding:1rem 1.1rem;margin:1.25rem 0}
.report .answer strong{display:block;font-size:1.25rem;line-height:1.3;color:var(--sign)}
.report .answer ol{margin:.4rem 0 0;padding-left:1.4rem}
.report a{color:#0d4a5a}
.report .sign{flex:none;width:1.4em;height:1.4em;color:var(--sign)}
.report .answer .sign{width:2.2rem;height:2.2rem}
.report .counts{display:flex;flex-wrap:wrap;gap:.5rem 1.75rem;list-style:none;padding:0;margin:1rem 0}
.report .counts li{display:flex;align-items:center;gap:.5rem;color:var(--sign)}
.report .counts b{font-size:1.25rem}
.report dl{margin:.75rem 0}
.report .facts{display:grid;grid-template-columns:minmax(7rem,max-content) 1fr;gap:.2rem 1.25rem}
.report dt{color:#55626c}
.report dd{margin:0}
.report .severity{color:var(--sign)}
.report .finding{display:flex;gap:.75rem;padding:1rem 0;border-bottom:1px solid #cdd5da}
.report .finding>div{min-width:0;flex:1}
.report .finding .kind{color:var(--sign);font-size:.92rem;margin:0 0 .4rem}
.report .finding dt{color:inherit;font-weight:600;margin-top:.45rem}
.report .photos{display:grid;grid-template-columns:repeat(auto-fill,minmax(14rem,1fr));gap:.75rem;margin:.75rem 0}
.report figure{margin:0}
.report .statement{margin:0 0 .5rem;padding:.5rem .75rem;border-left:3px solid #cdd5da;white-space:pre-line}
.report .signature{display:block;width:15rem;max-width:100%;height:5rem;border-bottom:1px solid #55605d}
.report .photo{position:relative;border:1px solid #cdd5da}
.report .photo img{display:block;width:100%;height:auto}
.report .photo svg{position:absolute;inset:0;width:100%;height:100%}
.report figcaption{font-size:.9rem;color:#55626c;margin-top:.25rem}
.report .scroll{overflow-x:auto}
.report table{border-collapse:collapse;width:100%;min-width:34rem;font-size:.95rem;overflow-wrap:normal}
.report th,.report td{text-align:left;vertical-align:top;padding:.45rem .6rem;border-bottom:1px solid #cdd5da}
.report thead th{background:#f3f6f7;color:#55626c;font-weight:600}
.report ul.plain{padding-left:1.2rem;margin:.3rem 0}
.report footer{margin-top:2.5rem;padding-top:.75rem;border-top:2px solid #0d4a5a;font-size:.92rem;color:#55626c}
${severities}
${answers}
@media print{.report table{min-width:0}.report{max-width:none;padding:0;font-size:10.5pt}.report .finding,.report tr,.report figure{break-inside:avoid}.report h2,.report h3,.report h4{break-after:avoid}.report a{color:inherit;text-decoration:none}}
`

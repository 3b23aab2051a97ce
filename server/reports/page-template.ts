/** The report as people read it in a browser: no script, headings in order, every sign beside its word. */
export const REPORT_TEMPLATE = `
<style>{{{style}}}</style>
<article class="report" lang="en">
  <header>
    <p class="soft">{{content.company.name}}</p>
    <h1>{{title}}</h1>
    <p class="soft">{{address}}</p>
  </header>

  <div class="answer {{content.answer.safety}}">
    {{{sign answerSign}}}
    <div>
      <strong>{{content.answer.headline}}</strong>
      {{#if content.answer.limits}}<p>{{content.answer.limits}}</p>{{/if}}
      {{#if first.length}}
      <p><b>See to this first</b></p>
      <ol>{{#each first}}<li value="{{number}}"><a href="#finding-{{number}}">{{heading}}</a>: {{text}}</li>{{/each}}</ol>
      {{/if}}
    </div>
  </div>

  {{#if counts.length}}
  <ul class="counts" aria-label="What we found, by severity">
    {{#each counts}}<li class="{{severity}}">{{{sign severity}}}<span><b>{{count}}</b> {{name}}</span></li>{{/each}}
  </ul>
  {{/if}}

  <dl class="facts">{{#each facts}}<dt>{{this.[0]}}</dt><dd>{{this.[1]}}</dd>{{/each}}</dl>
  {{#if content.inspection.note}}<p>{{content.inspection.note}}</p>{{/if}}

  {{#if groups.length}}
  <section aria-labelledby="report-findings">
    <h2 id="report-findings">What we found</h2>
    {{#each groups}}
    <section aria-labelledby="report-{{severity}}">
      <h3 id="report-{{severity}}" class="severity {{severity}}">{{title}}</h3>
      <p class="soft">{{meaning}}</p>
      {{#each findings}}
      <article class="finding {{severity}}" id="finding-{{number}}" aria-labelledby="finding-{{number}}-title">
        {{{sign severity}}}
        <div>
          <h4 id="finding-{{number}}-title">{{number}}. {{heading}}</h4>
          <p class="kind">{{kind}}</p>
          {{#if text}}<p>{{text}}</p>{{/if}}
          {{#if photos.length}}
          <div class="photos">
            {{#each photos}}
            <figure>
              <div class="photo"><img src="{{url}}" alt="{{alt}}" width="{{width}}" height="{{height}}" loading="lazy">{{{drawn}}}</div>
              {{#if caption}}<figcaption>{{caption}}</figcaption>{{/if}}
            </figure>
            {{/each}}
          </div>
          {{/if}}
          <dl>{{#each remarks}}<dt>{{this.[0]}}</dt><dd>{{this.[1]}}</dd>{{/each}}</dl>
          {{#if signature}}{{{signature}}}{{/if}}
        </div>
      </article>
      {{/each}}
    </section>
    {{/each}}
  </section>
  {{/if}}

  {{#if declined}}
  <section aria-labelledby="report-declined">
    <h2 id="report-declined">Work that was not wanted now</h2>
    <blockquote class="statement">{{declined.statement}}</blockquote>
    <p class="soft">Signed by {{declined.signedBy}}</p>
    {{{declined.signature}}}
  </section>
  {{/if}}

  {{#if devices.length}}
  <section aria-labelledby="report-devices">
    <h2 id="report-devices">Alarms and protective devices</h2>
    <p class="soft">Devices age even when they never have to act. These are the dates we keep for you.</p>
    <div class="scroll" tabindex="0" role="region" aria-label="Table of devices">
    <table>
      <thead><tr><th scope="col">Device</th><th scope="col">Where</th><th scope="col">Made</th><th scope="col">Replace by</th><th scope="col">Look again</th></tr></thead>
      <tbody>{{#each devices}}<tr><th scope="row">{{name}}</th><td>{{place}}</td><td>{{made}}</td><td>{{replace}}</td><td>{{look}}</td></tr>{{/each}}</tbody>
    </table>
    </div>
  </section>
  {{/if}}

  {{#if content.good.length}}
  <section aria-labelledby="report-good">
    <h2 id="report-good">Looked at and found good</h2>
    {{#each content.good}}
    <h3>{{area}}</h3>
    <ul class="plain">{{#each items}}<li>{{line this}}</li>{{/each}}</ul>
    {{/each}}
  </section>
  {{/if}}

  {{#if settled.length}}
  <section aria-labelledby="report-settled">
    <h2 id="report-settled">Settled since the last inspection</h2>
    <ul class="plain">{{#each settled}}<li>{{text}} <span class="soft">({{foundOn}})</span>: {{now}}</li>{{/each}}</ul>
  </section>
  {{/if}}

  {{#if content.notInspected.length}}
  <section aria-labelledby="report-not-inspected">
    <h2 id="report-not-inspected">What could not be inspected</h2>
    <p class="soft">This report says nothing about the condition of these.</p>
    <ul class="plain">{{#each content.notInspected}}<li>{{title}}{{#if places.length}} ({{join places}}){{/if}}: {{reason}}{{#if note}}. {{note}}{{/if}}</li>{{/each}}</ul>
  </section>
  {{/if}}

  {{#if leftOut.length}}
  <section aria-labelledby="report-left-out">
    <h2 id="report-left-out">Not part of this home</h2>
    <ul class="plain">{{#each leftOut}}<li>{{reason}} Left out: {{join titles}}.</li>{{/each}}</ul>
  </section>
  {{/if}}

  <section aria-labelledby="report-cautions">
    <h2 id="report-cautions">Please keep in mind</h2>
    <ul class="plain">{{#each content.cautions}}<li>{{this}}</li>{{/each}}</ul>
  </section>

  <footer>
    <p>{{content.company.name}}, {{join content.company.addressLines}}. {{content.company.phone}}, {{content.company.email}}</p>
  </footer>
</article>
`

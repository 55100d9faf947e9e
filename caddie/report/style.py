"""How the report looks, on a screen and on A4 or Letter paper, and how its figures are worked out."""

from caddie.reply.svg import INK, QUIET, RULE, SAND, TURF

STYLE = f"""
:root {{ color-scheme: light }}
* {{ box-sizing: border-box }}
body {{ margin: 0 auto; max-width: 46rem; padding: 1.5rem 1.25rem 3rem; background: #fff; color: {INK};
  font: 1rem/1.45 system-ui, 'Segoe UI', Helvetica, Arial, sans-serif }}
h1, h2 {{ font-family: Georgia, 'Times New Roman', serif; font-weight: 600; line-height: 1.15; margin: 0 }}
h1 {{ font-size: 1.9rem }}
h2 {{ font-size: 1.5rem; border-top: 3px solid {TURF}; padding-top: .8rem;
  margin-top: 2.2rem }}
h3 {{ font-size: 1.06rem; margin: 0 0 .15rem }}
h4 {{ font-size: .85rem; font-weight: 600; margin: 0 0 .1rem; color: {QUIET} }}
.made {{ margin: 0 0 .3rem; color: {QUIET}; font-size: .9rem }}
.period {{ margin: .5rem 0 1rem; color: {QUIET} }}
.glance {{ list-style: none; margin: 0 0 1.2rem; padding: 0; display: grid; gap: .7rem;
  grid-template-columns: repeat(4, 1fr) }}
.glance li {{ border-left: 3px solid {TURF}; padding: .1rem 0 .1rem .7rem;
  display: flex; flex-direction: column }}
.glance b {{ font: 600 1.75rem/1.1 Georgia, 'Times New Roman', serif }}
.glance span {{ font-weight: 600 }}
.glance small {{ color: {QUIET}; line-height: 1.3 }}
.work {{ background: #faf6ec; border-left: 3px solid {SAND}; padding: .8rem 1rem; margin: 0 0 1.4rem }}
.work ol {{ margin: .3rem 0 0; padding-left: 1.3rem }}
.work li {{ margin: .3rem 0 }}
figure {{ margin: 0 0 1.5rem; break-inside: avoid }}
figcaption p, .note {{ margin: 0 0 .4rem; color: {QUIET}; font-size: .88rem }}
svg {{ display: block; width: 100%; height: auto; max-width: 40rem }}
.places {{ display: grid; grid-template-columns: repeat(3, 1fr); gap: .6rem 1rem }}
.places svg {{ max-width: 15rem }}
table {{ border-collapse: collapse; width: 100%; font-size: .92rem; margin-bottom: 1.2rem }}
th, td {{ text-align: left; padding: .32rem .6rem .32rem 0;
  border-bottom: 1px solid {RULE}; vertical-align: top }}
thead th {{ color: {QUIET}; font-weight: 600; border-bottom: 2px solid {INK} }}
tbody th {{ font-weight: 600; white-space: nowrap }}
.player td:nth-child(-n+4) {{ white-space: nowrap }}
.compared {{ margin-top: 1.2rem }}
.table, .reads, .nerve, .work, .glance {{ break-inside: avoid }}
.reads p, .nerve p {{ margin: .2rem 0 .5rem }}
footer {{ border-top: 1px solid {RULE}; padding-top: .8rem; color: {QUIET};
  font-size: .85rem; break-inside: avoid }}
footer p {{ margin: .3rem 0 }}
@media (max-width: 34rem) {{
  .glance {{ grid-template-columns: repeat(2, 1fr) }}
  .places {{ grid-template-columns: repeat(2, 1fr) }}
}}
@page {{ margin: 14mm 15mm 15mm }}
@media print {{
  body {{ padding: 0; max-width: none; font-size: 10.5pt }}
  h1 {{ font-size: 20pt }}
  .player + .player {{ break-before: page }}
  .compared + .player {{ break-before: page }}
  h2 {{ margin-top: 0 }}
  h3, figcaption {{ break-after: avoid }}
  figure {{ margin-bottom: 1rem }}
  th, td {{ padding-top: .2rem; padding-bottom: .2rem }}
  table {{ margin-bottom: .8rem }}
  .work {{ print-color-adjust: exact; -webkit-print-color-adjust: exact }}
}}
"""

HOW = """
<h3>How these figures are worked out</h3>
<p>Shots from rounds count, in practice and in competition; drills do not. <b>Up and down</b>: holed in two or
fewer, as said or as the next shot within twenty minutes tells. Intervals of shares are Wilson's (R. Newcombe,
Stat. Med. 17, 1998), of means Student's t: nineteen of twenty such intervals hold the true figure.</p>
<p><b>Strokes against the table</b>: strokes to hole out before the shot, less one, less those after it, by
the published table for tour players (M. Broadie, Interfaces 42, 2012); putts by published make rates. Lies
that the table lacks are estimated. A ball with no word of where it ended counts as on the green up to
12 m.</p>
<p><b>To work on</b>: what a kind of shot costs against an estimated player five strokes better, times how
often it comes up, both drawn toward a typical player's while shots are few.</p>
"""

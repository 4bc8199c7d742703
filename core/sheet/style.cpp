#include "core/sheet/document.hpp"

namespace hangtime::sheet {

// No page size is named, so A4 and Letter both come out; the widest table fits the narrower of the two. Ink
// on white only: a ward's printer has no colours, and no state is told by one.
std::string_view html_style() {
    return R"(body { margin: 0; background: #fff; color: #1b262c; }
.sheet { font: 11pt/1.35 "B612", "DejaVu Sans", Verdana, Arial, sans-serif; max-width: 46rem; margin: 0 auto;
    padding: 1rem; }
.sheet h1 { font-size: 1.4em; margin: 0 0 .4em; }
.sheet h2 { font-size: 1.1em; margin: 1.1em 0 .3em; }
.sheet p, .sheet ul { margin: .4em 0; }
.sheet ul { padding-left: 1.2em; }
.sheet .headline { font-size: 1.2em; font-weight: bold; border: .15em solid; padding: .4em .6em; }
.sheet .headline + dl, .sheet .headline + ul + dl { font-size: 1.15em; }
.sheet .headline + dl dt, .sheet .headline + ul + dl dt { flex-basis: 5em; }
.sheet .headline + ul { font-weight: bold; }
.sheet .q { white-space: nowrap; }
.sheet dl { margin: .5em 0; display: grid; grid-template-columns: 1fr 1fr; gap: 0 1.5em; }
.sheet dl div { display: flex; gap: 1em; padding: .12em 0; border-bottom: 1px solid #b9c1c5; }
.sheet dt { flex: 0 0 12em; }
.sheet dd { margin: 0; font-weight: bold; }
.sheet table { border-collapse: collapse; width: 100%; margin: .9em 0; }
.sheet caption { text-align: left; font-weight: bold; font-size: 1.1em; padding-bottom: .2em; }
.sheet th, .sheet td { text-align: left; vertical-align: top; padding: .22em .5em;
    border: 1px solid #55646c; }
.sheet thead th { border-bottom-width: 2px; font-size: .88em; }
.sheet tbody th { font-weight: normal; }
.sheet .n, .sheet .t { text-align: right; font-variant-numeric: tabular-nums; }
.sheet .t { font-weight: bold; }
.sheet .pen { min-width: 5em; height: 1.7em; }
.sheet .tick { width: 4em; }
.sheet li, .sheet td { overflow-wrap: anywhere; }
.sheet td { min-width: 3.6em; }
.sheet table:not(.bars) td.n { white-space: nowrap; }
.sheet .bars th { border: 0; padding: .1em .5em .1em 0; width: 14em; }
.sheet .bars td { border: 0; border-left: 1px solid #55646c; padding: .1em 0; vertical-align: middle; }
.sheet .bars td.n { border: 0; padding-left: .5em; width: 7em; }
.sheet .bars svg { display: block; width: 100%; height: .8em; fill: #1b262c; }
.sheet .cards { display: flex; flex-wrap: wrap; gap: 5mm; margin: .6em 0; }
.sheet .cards article { border: 1px dashed #1b262c; box-sizing: border-box; width: 88mm; padding: 3mm; break-inside: avoid; }
.sheet .cards h3 { font-size: 1.1em; margin: 0; }
.sheet .cards .mark { border: 2px solid; padding: .1em .4em; margin: .3em 0; font-weight: bold; text-align: center; }
.sheet .cards dl { display: block; margin: .4em 0 0; }
.sheet .cards dt { flex-basis: 9em; }
.sheet .code { margin: .3em 0; }
.sheet .code > span { display: block; font-size: .85em; }
.sheet .code svg { display: block; background: #fff; fill: #000; }
.sheet .code b { letter-spacing: .06em; }
.sheet .picture { display: block; width: 100%; height: auto; margin: .6em 0; break-inside: avoid; }
.sheet .cautions { border: 1px solid; padding: .4em .6em .4em 1.6em; font-size: .92em; }
@media (max-width: 40rem) { .sheet dl { grid-template-columns: 1fr; } }
@page { margin: 11mm; }
@media print {
    .sheet { font-size: 9pt; line-height: 1.3; max-width: none; padding: 0; }
    .sheet .part { break-before: page; }
    .sheet table, .sheet ul, .sheet dl { margin: .5em 0; }
    .sheet dl { grid-template-columns: 1fr 1fr; }
    .sheet h2 { margin: .6em 0 .2em; }
    .sheet .cautions { margin: 0; padding: .2em .6em; }
    .sheet .cautions li { display: inline; }
    .sheet .pen { height: 1.4em; }
    .sheet tr, .sheet .bars, .sheet dl div, .sheet li, .sheet .headline, .sheet .cautions { break-inside: avoid; }
    .sheet h2, .sheet caption { break-after: avoid; }
    .sheet thead { display: table-header-group; }
}
)";
}

}  // namespace hangtime::sheet

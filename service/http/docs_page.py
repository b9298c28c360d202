"""The docs page: the job, what to mind, every calculation with its picture, and the contract to read and to try.

Reading and trying are Swagger UI's, served from here; nothing is asked of another host.
"""

from html import escape
from typing import Final

from service.http.addresses import BASE
from service.http.contract_calculations import operation_id
from service.http.pictograms import pictogram

ASSETS: Final = {
    "swagger-ui.css": "text/css",
    "swagger-ui-bundle.js": "text/javascript",
}
"""Files of Swagger UI that the page takes, and their types."""
POLICY: Final = (
    "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; "
    "connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)

START: Final = """// Opens the operation that the address names, and brings it to sight and to the keyboard.
function open() {
  const [, tag, id] = decodeURIComponent(location.hash).split("/");
  if (!tag || !id) return;
  ui.layoutActions.show(["operations", tag, id], true);
  const place = document.getElementById(`operations-${tag}-${id}`);
  if (!place) return;
  place.scrollIntoView();
  place.querySelector("button").focus();
}

window.ui = SwaggerUIBundle({
  url: "/openapi.json",
  dom_id: "#contract",
  deepLinking: true,
  validatorUrl: null,
  defaultModelsExpandDepth: 0,
  docExpansion: "list",
  tryItOutEnabled: true,
  onComplete: open
});
window.addEventListener("hashchange", open);
"""

STYLE: Final = """:root { color-scheme: light; }
body { margin: 0; font: 16px/1.5 sans-serif; color: #1b1b1b; background: #fff; }
.own { max-width: 72rem; margin: 0 auto; padding: 0 1rem; }
.own h1 { margin: 1.2rem 0 .2rem; }
.own a, .swagger-ui a { color: #004f7c; }
.mind { border: 2px solid #8f3f00; border-left-width: 10px; padding: .5rem 1rem; margin: 1rem 0; }
.all { display: grid; grid-template-columns: repeat(auto-fill, minmax(min(15rem, 100%), 1fr)); gap: .8rem; padding: 0; }
.all li { list-style: none; }
.all a { display: block; height: 100%; box-sizing: border-box; padding: .6rem .8rem; border: 1px solid #8a8a8a;
  border-radius: 6px; text-decoration: none; color: inherit; }
.all a:hover { background: #eef5fa; }
.all b { display: block; overflow-wrap: anywhere; color: #004f7c; }
.all svg { color: #004f7c; display: block; }
.skip { position: absolute; left: -100vw; }
.skip:focus { left: 1rem; top: .5rem; background: #fff; padding: .3rem; }
:focus-visible { outline: 3px solid #b34700 !important; outline-offset: 2px; }
.swagger-ui .info .title small { vertical-align: middle; }
.swagger-ui .scheme-container { display: none; }
.swagger-ui .opblock-summary-path, .swagger-ui .opblock-summary-description { overflow-wrap: anywhere; }
.swagger-ui pre, .swagger-ui table, .swagger-ui .model-box, .swagger-ui .markdown { max-width: 100%; overflow-x: auto; }
.swagger-ui .markdown code { overflow-wrap: anywhere; white-space: normal; }
@media (max-width: 40rem) {
  .swagger-ui table { display: block; }
  .swagger-ui .wrapper { padding: 0 .5rem; }
  .swagger-ui .opblock .opblock-summary { flex-wrap: wrap; }
  .swagger-ui .opblock-summary-path { max-width: 100%; }
}
"""

_PAGE: Final = """<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<link rel="icon" href="data:,">
<title>Lyestock - calculations for soap workshops</title>
<link rel="stylesheet" href="/docs/swagger-ui.css">
<link rel="stylesheet" href="/docs/page.css">
</head>
<body>
<a class="skip" href="#contract">To the contract</a>
<div class="own">
<h1>Lyestock</h1>
<p>For soap workshops that keep a concentrated lye stock in jugs or a tank, and draw from it for every batch: how much
alkali the fats need, how much stock holds it, what to add beside it and where; how hot a stock gets when it is mixed,
how much ice keeps it cool, how strong it still is; and what a week of orders takes. Programs ask with JSON; here you
can try every question by hand.</p>
<div class="mind" role="note"><b>Caustic burns.</b> Wear goggles, gloves and long sleeves, strew solid into water and
never water onto solid, and have running water near. Read the cautions of every answer: they are part of it. What is
calculated here replaces neither the safety data sheet, nor local rules, nor weighing twice.</div>
<p><a href="/words">Words of the trade</a> - <a href="/problems">What can go wrong</a> -
<a href="/openapi.json">The contract as a file</a> - <a href="/">The catalogue</a></p>
<h2>What it calculates</h2>
<ul class="all">
{cards}
</ul>
<h2>Read and try</h2>
</div>
<main id="contract" tabindex="-1"></main>
<noscript><p class="own">Trying takes JavaScript; <a href="/openapi.json">the contract</a> can be read without.
</p></noscript>
<script src="/docs/swagger-ui-bundle.js"></script>
<script src="/docs/start.js"></script>
</body>
</html>
"""


def docs_page(calculations: dict[str, str]) -> bytes:
    """The page.

    Args:
        calculations: summary of every calculation by its name.
    """
    cards = "\n".join(
        f'<li><a href="#/calculations/{operation_id(name)}">{pictogram(name)}<b>{escape(BASE + name)}</b>'
        f"{escape(summary)}</a></li>"
        for name, summary in calculations.items()
    )
    return _PAGE.format(cards=cards).encode()

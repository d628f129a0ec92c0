"""The look of the pages that the service writes itself; served beside them, as their policy lets in
nothing inline."""

STYLE = """body { font: 1rem/1.5 system-ui, sans-serif; color: #1a1a1a; background: #fff; margin: 0 auto;
  max-width: 75rem; padding: 1rem; }
a { color: #0b4f8a; }
nav ul { display: flex; flex-wrap: wrap; gap: 1rem; list-style: none; padding: 0; }
.skip { position: absolute; left: -100rem; }
.skip:focus { left: 1rem; }
.wide { overflow-x: auto; }
table { border-collapse: collapse; margin: 1rem 0; }
caption { text-align: left; font-weight: bold; padding: 0.25rem 0; }
th, td { border: 1px solid #767676; padding: 0.25rem 0.5rem; text-align: left; vertical-align: top; }
td ul { margin: 0; padding-left: 1rem; }
dl div { display: flex; gap: 0.5rem; }
dt { font-weight: bold; }
dd { margin: 0; }
pre { background: #f2f2f2; padding: 0.75rem; overflow-x: auto; }
.verdict { border: 2px solid; padding: 0 0.4rem; white-space: nowrap; }
.pass { color: #1b5e20; } .warn { color: #7a4100; } .fail { color: #a30000; } .unknown { color: #333; }
"""

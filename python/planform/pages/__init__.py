"""HTML pages: one base template with its style sheets, filled by Jinja2 with everything escaped.

A page is a template in ``templates`` that extends ``base.html`` (see there for its blocks) and is rendered by
`planform.pages.render.render`. It is one file without links or fonts of its own, and without a script (the plan has one, allowed by its hash), and holds no date:
the same data give the same bytes.
"""

"""The door in a browser: a page on this machine alone, for everything that a person does.

No decision about rings or paper is made here: a view reads what was filled in, calls an action, and shows its report.

How it hangs together:
    serving.py     starts the server, finds one that runs already, ends it
    patience.py    half requests and slow ones: how long the server waits
    guard.py       what is let in: our address, the session's cookie, bodies of a size; the headers of every answer
    app.py         the one file that knows starlette: it finds the route of a request, and sends its answer
    first.py       the first page as it was answered last, for a start that waits for nothing
    templating.py  the one file that knows jinja2
    asked.py       what a view is given (`Asked`) and what it gives (`Answer`), as plain values; `View` and its routes
    boxes.py       the boxes of a form: what they hold, what was typed, what is wrong with it
    aid_boxes.py, cut_boxes.py, order_boxes.py, measuring_boxes.py, papers.py   the boxes of each kind of form
    refusals.py    remedies in the words of the page
    views/         one file for each view; its templates are in templates/, named after it
    static/        the style sheet, and the script: it fetches what the server rendered, and swaps it in

How to add a view:
    1. views/NAME.py with `ROUTES`: each a path and a plain function from `Asked` to `Answer`, which reads its boxes
       (`boxes.Form`), calls an action, and names a template. It is imported when it is first asked for.
    2. templates/NAME.html, which extends shell.html. What changes as one types stands in templates/NAME_live.html,
       included by the former: named as `part` in the answer, it is rendered alone when the script asks.
       Each element with an id in it takes the place of the one that the page has.
    3. A line in `views.VIEWS`, where the views stand in the order of the work.
    4. tests/test_page_NAME.py for the function; tests/in_browser for what a person does.
"""

"""A page on which one section of a case is moved by hand, and the answer follows.

It is one more writer of the blocks that the reports are made of: `state.py` is the case file as it
stands, `inputs.py` what of it is moved, `work.py` what is solved and shown of it, `process.py` who
solves it, `page.py` with `page.js` and `page.css` the page, and `server.py` serves that. Only the
last two need the libraries of the extra ``contactfe[explore]``.
"""

"""Empty block workbooks, ready to be filled in: four weeks with two, three and four sessions a week.

They are generated from the declaration of the sheets (`compiler.render.template`); `pytest --update-expected`
writes them anew. `programme new` writes the same for any number of weeks and sessions.
"""

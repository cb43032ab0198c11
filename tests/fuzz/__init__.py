"""What nobody would ever type or send, made at random, to every door that bytes come in by.

Each harness is a module with a function ``one(data)``: ``data`` is a recipe (``recipe.Recipe``) by which a good file
or word is spoilt; it then goes to the reader of its kind. The reader has to give a result or refuse it in its own
documented way; all else is a find. ``run`` makes the recipes, plainly or guided by coverage.
"""

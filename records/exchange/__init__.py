"""What goes from one workshop to another: tables, documents, drawings, bundles; and how they are checked on arrival."""

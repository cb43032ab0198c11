"""The tray: pictures that arrived, a card each, from arrival until the part is on file."""

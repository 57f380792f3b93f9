"""The site: MkDocs events, HTML and pictures; nothing here decides a number."""

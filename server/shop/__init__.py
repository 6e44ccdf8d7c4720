"""The shop's own tools and proven cuts: kept on its server, shown, changed, and offered on the pages."""

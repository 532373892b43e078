//! Every document over every site: templates fit their views, pages parse.

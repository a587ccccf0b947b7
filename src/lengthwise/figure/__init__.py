"""The body and its gear as triangles: bones, muscle volumes and what is lifted, made once for screen and paper."""

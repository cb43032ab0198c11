"""What a screw thread is, nominal or measured: forms, series, limits of size, identity. Knows no picture."""

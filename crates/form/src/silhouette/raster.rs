//! A picture in grey, and turning what a camera held sideways.

use crate::error::Error;

/// A picture in grey, row by row from the top.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Raster {
    width: usize,
    height: usize,
    luma: Vec<u8>,
}

impl Raster {
    /// A picture from its pixels.
    ///
    /// # Errors
    ///
    /// [`Error::Empty`] without a pixel; [`Error::Count`] when there are not width times height of them.
    pub fn new(width: usize, height: usize, luma: Vec<u8>) -> Result<Raster, Error> {
        let wanted = width.saturating_mul(height);
        if wanted == 0 {
            return Err(Error::Empty);
        }
        if luma.len() != wanted {
            return Err(Error::Count { quantity: "pixels of a picture", got: luma.len(), wanted });
        }
        Ok(Raster { width, height, luma })
    }

    /// Its width in pixels.
    pub fn width(&self) -> usize {
        self.width
    }

    /// Its height in pixels.
    pub fn height(&self) -> usize {
        self.height
    }

    /// Its pixels, row by row.
    pub fn luma(&self) -> &[u8] {
        &self.luma
    }

    /// One row of it.
    pub fn row(&self, at: usize) -> &[u8] {
        &self.luma[at * self.width..(at + 1) * self.width]
    }
}

/// Pixels turned upright by the orientation that the camera wrote (EXIF 0x0112, 1 to 8), with their new width and height.
///
/// # Errors
///
/// [`Error::OutOfRange`] for another orientation; [`Error::Count`] when there are not width times height pixels.
///
/// # Example
///
/// ```
/// use form::silhouette::upright;
///
/// assert_eq!(upright(3, 2, &[1, 2, 3, 4, 5, 6], 6)?, (2, 3, vec![4, 1, 5, 2, 6, 3]));
/// # Ok::<(), form::error::Error>(())
/// ```
pub fn upright<T: Copy>(
    width: usize,
    height: usize,
    pixels: &[T],
    orientation: u16,
) -> Result<(usize, usize, Vec<T>), Error> {
    measure::range::within("orientation", f64::from(orientation), 1.0, 8.0)?;
    let wanted = width.saturating_mul(height);
    if pixels.len() != wanted {
        return Err(Error::Count { quantity: "pixels of a picture", got: pixels.len(), wanted });
    }
    let (wide, high) = if orientation >= 5 { (height, width) } else { (width, height) };
    let mut turned = Vec::with_capacity(wanted);
    for y in 0..high {
        for x in 0..wide {
            let (column, row) = match orientation {
                1 => (x, y),
                2 => (width - 1 - x, y),
                3 => (width - 1 - x, height - 1 - y),
                4 => (x, height - 1 - y),
                5 => (y, x),
                6 => (y, height - 1 - x),
                7 => (width - 1 - y, height - 1 - x),
                _ => (width - 1 - y, x),
            };
            turned.push(pixels[row * width + column]);
        }
    }
    Ok((wide, high, turned))
}

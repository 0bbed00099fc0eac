//! Photos of trees: checked, set upright, made smaller, and kept without the place they were taken at.

use std::{borrow::Cow, io::Cursor};

use collection::photo::{Photo, Subject, strokes};
use image::{
    DynamicImage, ImageDecoder, ImageError, ImageFormat, ImageReader, codecs::jpeg::JpegEncoder,
    imageops::FilterType,
};
use jiff::civil::Date;
use sha2::{Digest, Sha256};
use store::{
    change::Change,
    store::{Act, Store},
};

use crate::record::{FormError, bad, day, known_tree};

/// A photo is kept with no more pixels along its long side than this.
pub const LONGEST: u32 = 3200;

/// For lists, no more than this.
const SMALL: u32 = 640;

/// Fewer pixels than this along a side show no branch.
const FEWEST: u32 = 200;

/// More pixels than this in all are not opened.
const MOST: u64 = 50_000_000;

/// A picture that takes more bytes than this when opened, as one of 16 bits a colour does, is not opened.
const MOST_BYTES: u64 = 256 * 1024 * 1024;

/// Why a photo was not taken.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PhotoError {
    /// Nothing in it.
    #[error("the file is empty")]
    Empty,
    /// A format we do not read.
    #[error("this is no JPEG or PNG picture; {0}")]
    Kind(&'static str),
    /// Too few pixels.
    #[error("the picture has {0} × {1} pixels; a branch needs at least {FEWEST} a side to be seen")]
    Small(u32, u32),
    /// Too many pixels.
    #[error("the picture has {0} million pixels; save it with 50 million or fewer")]
    Large(u64),
    /// Too many bytes a pixel.
    #[error("the picture takes {0} MB when it is opened; save it as a JPEG")]
    Deep(u64),
    /// It breaks off or holds rubbish.
    #[error("the picture breaks off or is damaged; send it again")]
    Broken,
}

/// A photo that can be kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Taken {
    /// JPEG as large as it is kept.
    pub full: Vec<u8>,
    /// JPEG for lists.
    pub small: Vec<u8>,
    /// Pixels across the full one.
    pub wide: u32,
    /// Pixels down the full one.
    pub high: u32,
    /// The day the camera told.
    pub day: Option<Date>,
    /// Of the file as it came.
    pub hash: String,
}

/// Opens a photo, makes it smaller, sets it upright, and drops everything but the picture and its day.
///
/// This takes a core for a while: whoever holds a lock opens the photo before.
///
/// # Errors
///
/// [`PhotoError`] for what is no photo we can use.
pub fn open(bytes: &[u8]) -> Result<Taken, PhotoError> {
    let kept = upright(bytes)?;
    let small = shrunk(kept.clone(), SMALL);
    Ok(Taken {
        full: jpeg(&kept, 88)?,
        small: jpeg(&small, 80)?,
        wide: kept.width(),
        high: kept.height(),
        day: camera_day(bytes),
        hash: Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect(),
    })
}

/// A photo as it is handed in: as a file, or opened already.
#[derive(Clone, Copy, Debug)]
pub enum Sent<'a> {
    /// The file.
    File(&'a [u8]),
    /// What was opened.
    Opened(&'a Taken),
}

impl<'a> From<&'a [u8]> for Sent<'a> {
    fn from(file: &'a [u8]) -> Sent<'a> {
        Sent::File(file)
    }
}

impl<'a> From<&'a Vec<u8>> for Sent<'a> {
    fn from(file: &'a Vec<u8>) -> Sent<'a> {
        Sent::File(file)
    }
}

impl<'a> From<&'a Taken> for Sent<'a> {
    fn from(taken: &'a Taken) -> Sent<'a> {
        Sent::Opened(taken)
    }
}

impl<'a> Sent<'a> {
    /// The photo, opened here if it was not yet.
    pub(crate) fn opened(self) -> Result<Cow<'a, Taken>, FormError> {
        match self {
            Sent::Opened(taken) => Ok(Cow::Borrowed(taken)),
            Sent::File(bytes) => opened(bytes).map(Cow::Owned),
        }
    }
}

/// Opens a photo that came with a form.
///
/// # Errors
///
/// [`FormError`] that names the photo, for what is none we can use.
pub fn opened(bytes: &[u8]) -> Result<Taken, FormError> {
    open(bytes).map_err(|why| bad("photo", "", why.to_string()))
}

/// The picture no larger than it is kept, as the camera was held, whatever the order its pixels came in. It is made smaller before it is
/// turned, so that its pixels stand in memory once.
fn upright(bytes: &[u8]) -> Result<DynamicImage, PhotoError> {
    if bytes.is_empty() {
        return Err(PhotoError::Empty);
    }
    let format = match image::guess_format(bytes) {
        Ok(format @ (ImageFormat::Jpeg | ImageFormat::Png)) => format,
        _ if bytes.get(4..8) == Some(b"ftyp") => {
            return Err(PhotoError::Kind("let the telephone save photos as JPEG (“most compatible”)"));
        }
        _ => return Err(PhotoError::Kind("choose a photo")),
    };
    let reader = ImageReader::with_format(Cursor::new(bytes), format);
    let mut decoder = reader.into_decoder().map_err(|_| PhotoError::Broken)?;
    let (wide, high) = decoder.dimensions();
    if wide < FEWEST || high < FEWEST {
        return Err(PhotoError::Small(wide, high));
    }
    let pixels = u64::from(wide) * u64::from(high);
    if pixels > MOST {
        return Err(PhotoError::Large(pixels / 1_000_000));
    }
    if decoder.total_bytes() > MOST_BYTES {
        return Err(PhotoError::Deep(decoder.total_bytes() / 1024 / 1024));
    }
    if format == ImageFormat::Jpeg && !ends(bytes) {
        return Err(PhotoError::Broken);
    }
    let orientation = decoder.orientation().map_err(|_: ImageError| PhotoError::Broken)?;
    let picture = DynamicImage::from_decoder(decoder).map_err(|_| PhotoError::Broken)?;
    let mut kept = shrunk(DynamicImage::ImageRgb8(picture.into_rgb8()), LONGEST);
    kept.apply_orientation(orientation);
    Ok(kept)
}

/// Whether a JPEG's own picture comes to its end; the decoder fills up what is missing and would not tell. What a telephone hangs on after
/// it does not count.
///
/// Segments are walked as ISO/IEC 10918-1 annex B writes them: a marker, a length, that many bytes; after a scan's head its data up to
/// the next marker that is no stuffed byte and no restart.
fn ends(bytes: &[u8]) -> bool {
    const END: u8 = 0xd9;
    const SCAN: u8 = 0xda;
    let mut at = 2;
    while let (Some(0xff), Some(&mark)) = (bytes.get(at), bytes.get(at + 1)) {
        match mark {
            0xff => at += 1,
            END => return true,
            0x01 | 0xd0..=0xd8 => at += 2,
            _ => {
                let Some(&[high, low]) = bytes.get(at + 2..at + 4).and_then(|pair| pair.first_chunk()) else {
                    return false;
                };
                at += 2 + usize::from(u16::from_be_bytes([high, low]));
                if mark == SCAN {
                    let data = bytes.get(at..).unwrap_or_default();
                    let is_mark =
                        |pair: &[u8]| pair[0] == 0xff && !matches!(pair[1], 0x00 | 0xff | 0xd0..=0xd7);
                    match data.windows(2).position(is_mark) {
                        Some(next) => at += next,
                        None => return false,
                    }
                }
            }
        }
    }
    false
}

fn shrunk(picture: DynamicImage, longest: u32) -> DynamicImage {
    if picture.width().max(picture.height()) <= longest {
        return picture;
    }
    picture.resize(longest, longest, FilterType::Triangle)
}

fn jpeg(picture: &DynamicImage, quality: u8) -> Result<Vec<u8>, PhotoError> {
    let mut bytes = Vec::new();
    JpegEncoder::new_with_quality(&mut bytes, quality)
        .encode_image(picture)
        .map_err(|_| PhotoError::Broken)?;
    Ok(bytes)
}

/// The day the camera wrote into the picture: when it was taken, else when the file was made.
///
/// The stamp is local time as `YYYY:MM:DD HH:MM:SS` (Exif 2.32, tags `DateTimeOriginal` and `DateTime`).
fn camera_day(bytes: &[u8]) -> Option<Date> {
    let exif = exif::Reader::new().read_from_container(&mut Cursor::new(bytes)).ok()?;
    [exif::Tag::DateTimeOriginal, exif::Tag::DateTime].into_iter().find_map(|tag| {
        let field = exif.get_field(tag, exif::In::PRIMARY)?;
        let exif::Value::Ascii(lines) = &field.value else { return None };
        let stamp = exif::DateTime::from_ascii(lines.first()?).ok()?;
        Date::new(
            i16::try_from(stamp.year).ok()?,
            i8::try_from(stamp.month).ok()?,
            i8::try_from(stamp.day).ok()?,
        )
        .ok()
    })
}

/// A photo with what was typed beside it.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct PhotoForm<'a> {
    pub tree: &'a str,
    /// Empty to believe the camera.
    pub day: &'a str,
    /// Empty for the whole tree.
    pub subject: &'a str,
    /// Empty for today's front.
    pub clock: &'a str,
    pub note: &'a str,
}

/// Keeps a photo of a tree; the very same photo twice is kept once.
///
/// # Errors
///
/// [`FormError`] naming what cannot be taken; then nothing was kept.
pub fn keep<'a>(
    store: &mut Store,
    form: PhotoForm<'_>,
    photo: impl Into<Sent<'a>>,
    today: Date,
) -> Result<Photo, FormError> {
    let tree = known_tree(store, form.tree)?;
    let mut new = New::read(form, photo.into(), today)?;
    store.transact(&Act::Photo(tree), |change| new.add(change))?;
    Ok(new.photo)
}

/// A photo that is checked and not kept yet.
#[derive(Debug)]
pub(crate) struct New<'a> {
    pub(crate) photo: Photo,
    taken: Cow<'a, Taken>,
}

impl<'a> New<'a> {
    /// A photo of a tree that is in the collection.
    pub(crate) fn read(form: PhotoForm<'_>, sent: Sent<'a>, today: Date) -> Result<New<'a>, FormError> {
        let typed = match form.day.trim() {
            "" => None,
            typed => Some(day(typed, today)?),
        };
        let taken = sent.opened()?;
        let told = typed.or(taken.day.filter(|day| *day <= today));
        let photo = Photo {
            key: String::new(),
            tree: form.tree.into(),
            day: told.unwrap_or(today),
            day_told: told.is_some(),
            subject: match form.subject {
                "" => Subject::Whole,
                word => Subject::from_key(word)
                    .ok_or_else(|| bad("photo of", word, "is not whole, part or roots"))?,
            },
            clock: match form.clock.trim() {
                "" => 6,
                hour => hour
                    .parse()
                    .ok()
                    .filter(|hour| (1..=12).contains(hour))
                    .ok_or_else(|| bad("seen from", hour, "is not an hour from 1 to 12"))?,
            },
            wide: taken.wide,
            high: taken.high,
            scale: None,
            soil: None,
            note: form.note.trim().into(),
        };
        Ok(New { photo, taken })
    }

    /// Keeps it under the first name that is free.
    pub(crate) fn add(&mut self, change: &Change<'_>) -> Result<(), FormError> {
        let New { photo, taken } = self;
        let taken_keys = change.photo_keys(&photo.tree)?;
        photo.key = free_key(&format!("{}-{}", photo.tree, photo.day), &taken_keys);
        if !change.add_photo(photo, &taken.hash, [&taken.full, &taken.small])? {
            return Err(bad("photo", "", "is kept for this tree already"));
        }
        Ok(())
    }
}

/// The name itself, or with the first number from 2 that is free.
pub(crate) fn free_key(wanted: &str, taken: &[String]) -> String {
    let is_free = |key: &String| !taken.contains(key);
    let numbered = (2..).map(|number| format!("{wanted}-{number}"));
    std::iter::once(wanted.to_string()).chain(numbered).find(is_free).expect("numbers do not run out")
}

/// Takes a photo back with the lines traced on it.
///
/// # Errors
///
/// [`FormError`] when there is no such photo of the tree.
pub fn drop_photo(store: &mut Store, tree: &str, key: &str) -> Result<(), FormError> {
    let known = store.reader()?.photos()?.iter().any(|photo| photo.key == key && photo.tree == tree);
    if !known {
        return Err(bad("photo", key, "is not one of this tree"));
    }
    Ok(store.transact(&Act::Photo(tree.into()), |change| change.remove_photo(key))?)
}

/// Most letters of a line of strokes.
const LONGEST_STROKES: usize = 400_000;

/// Keeps the strokes that mend the outline on a photo, in place of those before.
///
/// # Errors
///
/// [`FormError`] when there is no such photo or the strokes cannot be read.
pub fn brush(store: &mut Store, key: &str, typed: &str) -> Result<(), FormError> {
    let photo = store.reader()?.photos()?.into_iter().find(|photo| photo.key == key);
    let photo = photo.ok_or_else(|| bad("photo", key, "is not in the collection"))?;
    let kept = strokes(typed).filter(|_| typed.len() <= LONGEST_STROKES);
    let kept = kept.ok_or_else(|| bad("strokes", typed, "cannot be read; paint again"))?;
    store.transact(&Act::Photo(photo.tree), |change| change.set_brush(key, &kept))?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn picture(wide: u32, high: u32) -> DynamicImage {
        DynamicImage::ImageRgb8(image::RgbImage::from_fn(wide, high, |x, y| {
            image::Rgb([(x % 256) as u8, (y % 256) as u8, 90])
        }))
    }

    fn png(picture: &DynamicImage) -> Vec<u8> {
        let mut bytes = Vec::new();
        picture.write_to(&mut Cursor::new(&mut bytes), ImageFormat::Png).unwrap();
        bytes
    }

    #[test]
    fn what_is_no_photo_is_named() {
        assert_eq!(open(b"").unwrap_err(), PhotoError::Empty);
        assert!(matches!(open(b"%PDF-1.7 and so on").unwrap_err(), PhotoError::Kind(_)));
        assert!(matches!(open(b"\0\0\0\x18ftypheic").unwrap_err(), PhotoError::Kind(_)));
        assert_eq!(open(&png(&picture(1, 1))).unwrap_err(), PhotoError::Small(1, 1));
        let whole = jpeg(&picture(300, 400), 90).unwrap();
        assert!(open(&whole).is_ok());
        for cut in [whole.len() / 3, whole.len() / 2, whole.len() - 2] {
            assert_eq!(open(&whole[..cut]).unwrap_err(), PhotoError::Broken, "cut at {cut}");
        }
        let hung_on = [whole.as_slice(), b"\0\0\0\x18ftypmp42 a moving picture \xff\xda and more"].concat();
        assert!(open(&hung_on).is_ok(), "what hangs on after the picture");
        let whole = png(&picture(300, 400));
        assert_eq!(open(&whole[..whole.len() / 2]).unwrap_err(), PhotoError::Broken);
    }

    #[test]
    fn a_picture_of_sixty_million_pixels_is_refused_before_it_is_opened() {
        // A PNG's size stands in its first chunk; no pixel follows.
        let mut bytes = png(&picture(300, 300));
        bytes[16..20].copy_from_slice(&10_000_u32.to_be_bytes());
        bytes[20..24].copy_from_slice(&6_000_u32.to_be_bytes());
        let crc = crc(&bytes[12..29]);
        bytes[29..33].copy_from_slice(&crc.to_be_bytes());
        assert_eq!(open(&bytes).unwrap_err(), PhotoError::Large(60));
    }

    /// The check sum of a PNG's chunk (PNG specification, annex D).
    fn crc(bytes: &[u8]) -> u32 {
        !bytes.iter().fold(u32::MAX, |sum, byte| {
            (0..8)
                .fold(sum ^ u32::from(*byte), |sum, _| (sum >> 1) ^ (0xedb8_8320 & (sum & 1).wrapping_neg()))
        })
    }

    #[test]
    fn a_large_photo_is_kept_smaller() {
        let taken = open(&png(&picture(4000, 1000))).unwrap();
        assert_eq!((taken.wide, taken.high), (3200, 800));
        let small = image::load_from_memory(&taken.small).unwrap();
        assert_eq!(small.width(), 640);
    }
}

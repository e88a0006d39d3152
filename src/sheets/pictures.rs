//! Pictures made ready for paper: turned upright, scaled to print size, without what a camera wrote into them.
//!
//! Each is decoded to its pixels and encoded anew, so that place, day, device and thumbnail of a photo end here.

use std::fmt;
use std::io::Cursor;

use image::codecs::jpeg::JpegEncoder;
use image::codecs::png::PngEncoder;
use image::imageops::FilterType;
use image::{
    DynamicImage, ExtendedColorType, ImageDecoder, ImageEncoder, ImageFormat, ImageReader, Limits,
    RgbImage,
};

use crate::case::Case;

/// More pixels than these are refused before they are decoded: 24 million, as a large photo has.
pub const MOST_PIXELS: u64 = 24_000_000;
/// The longest side that is decoded at all.
const LONGEST_SIDE: u32 = 20_000;
/// No decoder may take more memory at once.
const MOST_MEMORY: u64 = 110 << 20;
/// A photo's longest side on paper is 60 mm: 240 pixels an inch.
const PHOTO_SIDE: u32 = 567;
/// A logo's longest side on paper is 40 mm: 300 pixels an inch.
const LOGO_SIDE: u32 = 472;
/// Of 100.
const JPEG_QUALITY: u8 = 85;

/// Why a picture cannot be printed, in words for the therapist.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PictureFault(String);

impl fmt::Display for PictureFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for PictureFault {}

/// The pictures of one case, ready for its papers.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Pictures {
    logo: Option<Vec<u8>>,
    photos: Vec<Vec<u8>>,
}

/// What a picture is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Use {
    /// In the footer of every page.
    Logo,
    /// In a row of the summary.
    Photo,
}

impl Pictures {
    /// No picture.
    #[must_use]
    pub const fn none() -> Self {
        Self { logo: None, photos: Vec::new() }
    }

    /// Takes in the clinic's logo.
    ///
    /// # Errors
    ///
    /// When the bytes are no PNG, JPEG or WebP, are damaged, or hold more than [`MOST_PIXELS`].
    pub fn put_logo(&mut self, bytes: &[u8]) -> Result<(), PictureFault> {
        self.logo = Some(ready(bytes, Use::Logo)?);
        Ok(())
    }

    /// Takes in the next photo.
    ///
    /// # Errors
    ///
    /// As for a logo.
    pub fn put_photo(&mut self, bytes: &[u8]) -> Result<(), PictureFault> {
        self.photos.push(ready(bytes, Use::Photo)?);
        Ok(())
    }

    /// Whether there is a logo.
    pub(super) fn has_logo(&self) -> bool {
        self.logo.is_some()
    }

    /// The files of the closed world.
    pub(super) fn files(&self) -> impl Iterator<Item = (String, &[u8])> {
        let logo = self.logo.iter().map(|it| ("/case/logo.png".to_owned(), &it[..]));
        let photos = self.photos.iter().zip(1..);
        logo.chain(photos.map(|(it, number)| (format!("/case/photo-{number}.jpg"), &it[..])))
    }

    /// The case without the pictures that are not here, so that no layout asks for them.
    pub(super) fn shown(&self, case: &Case) -> Case {
        let mut case = case.clone();
        if self.logo.is_none() {
            case.clinic.logo = None;
        }
        case.photos.truncate(self.photos.len());
        case
    }
}

/// A picture turned upright, on white, no larger than it prints, and nothing but its pixels.
///
/// # Errors
///
/// When the bytes are no PNG, JPEG or WebP, are damaged, or hold more than [`MOST_PIXELS`].
pub fn ready(bytes: &[u8], what: Use) -> Result<Vec<u8>, PictureFault> {
    let upright = decoded(bytes)?;
    let side = if what == Use::Logo { LOGO_SIDE } else { PHOTO_SIDE };
    let fitting = if upright.width().max(upright.height()) > side {
        upright.resize(side, side, FilterType::Lanczos3)
    } else {
        upright
    };
    encoded(&on_white(&fitting), what)
        .map_err(|_| PictureFault("the picture cannot be made ready for paper".into()))
}

fn decoded(bytes: &[u8]) -> Result<DynamicImage, PictureFault> {
    let damaged = || PictureFault("the picture is damaged and cannot be read to its end".into());
    let mut reader = ImageReader::new(Cursor::new(bytes))
        .with_guessed_format()
        .map_err(|_| PictureFault("the picture cannot be read".into()))?;
    let known = [ImageFormat::Png, ImageFormat::Jpeg, ImageFormat::WebP];
    if !reader.format().is_some_and(|it| known.contains(&it)) {
        return Err(PictureFault(
            "it is no PNG, JPEG or WebP picture, whatever its name ends in".into(),
        ));
    }
    let mut limits = Limits::no_limits();
    limits.max_image_width = Some(LONGEST_SIDE);
    limits.max_image_height = Some(LONGEST_SIDE);
    limits.max_alloc = Some(MOST_MEMORY);
    reader.limits(limits);
    let mut decoder =
        reader.into_decoder().map_err(|error| too_large(&error).unwrap_or(damaged()))?;
    let (width, height) = decoder.dimensions();
    if u64::from(width) * u64::from(height) > MOST_PIXELS {
        return Err(large());
    }
    let orientation = decoder.orientation().map_err(|_| damaged())?;
    let pixels = DynamicImage::from_decoder(decoder);
    let mut image = pixels.map_err(|error| too_large(&error).unwrap_or(damaged()))?;
    image.apply_orientation(orientation);
    Ok(image)
}

fn too_large(error: &image::ImageError) -> Option<PictureFault> {
    matches!(error, image::ImageError::Limits(_)).then(large)
}

fn large() -> PictureFault {
    PictureFault(format!(
        "it has more than {} million pixels; save it smaller, 2000 pixels a side are plenty",
        MOST_PIXELS / 1_000_000
    ))
}

/// Paper is white: what lets light through lets paper through.
fn on_white(image: &DynamicImage) -> RgbImage {
    let pixels = image.to_rgba8();
    RgbImage::from_fn(pixels.width(), pixels.height(), |x, y| {
        let [red, green, blue, alpha] = pixels.get_pixel(x, y).0;
        let over = |of: u8| {
            let (of, alpha) = (u32::from(of), u32::from(alpha));
            ((of * alpha + 255 * (255 - alpha) + 127) / 255) as u8
        };
        image::Rgb([over(red), over(green), over(blue)])
    })
}

/// A logo keeps its sharp edges as PNG; a photo is small as JPEG.
fn encoded(image: &RgbImage, what: Use) -> image::ImageResult<Vec<u8>> {
    let mut bytes = Vec::new();
    let (width, height) = image.dimensions();
    match what {
        Use::Logo => PngEncoder::new(&mut bytes).write_image(
            image,
            width,
            height,
            ExtendedColorType::Rgb8,
        )?,
        Use::Photo => JpegEncoder::new_with_quality(&mut bytes, JPEG_QUALITY).write_image(
            image,
            width,
            height,
            ExtendedColorType::Rgb8,
        )?,
    }
    Ok(bytes)
}

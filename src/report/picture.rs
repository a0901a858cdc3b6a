//! Photographs made small for a page.
//!
//! A photograph from a phone has some megabytes and says where it was taken. What goes into a page is decoded and
//! written anew: upright, small, as JPEG, with nothing in it but the picture.

use std::io::Cursor;

use image::codecs::jpeg::JpegEncoder;
use image::{DynamicImage, ImageDecoder, ImageReader, Limits};

/// The longer side of a small picture, in pixels: sharp at the width of a phone, readable on paper.
const LONGEST: u32 = 720;
/// Quality of the JPEG, 1 to 100.
const QUALITY: u8 = 70;
/// The longer side of a photograph, in pixels, and the memory to decode it, in bytes. Beyond that it is no photograph.
const LARGEST: (u32, u64) = (16_384, 512 * 1024 * 1024);

/// Makes a JPEG or PNG small; gives back a JPEG, or why there is none, in words.
///
/// # Errors
/// When the bytes are no picture of these kinds, are damaged, or are larger than any photograph.
pub fn small(bytes: &[u8]) -> Result<Vec<u8>, String> {
    let unreadable = |error: image::ImageError| format!("it cannot be read as a picture ({error})");
    let mut reader = ImageReader::new(Cursor::new(bytes))
        .with_guessed_format()
        .map_err(|error| format!("it cannot be read ({error})"))?;
    let mut limits = Limits::default();
    limits.max_image_width = Some(LARGEST.0);
    limits.max_image_height = Some(LARGEST.0);
    limits.max_alloc = Some(LARGEST.1);
    reader.limits(limits);
    let mut decoder = reader.into_decoder().map_err(unreadable)?;
    let orientation = decoder.orientation().map_err(unreadable)?;
    let mut picture = DynamicImage::from_decoder(decoder).map_err(unreadable)?;
    if picture.width().max(picture.height()) > LONGEST {
        picture = picture.thumbnail(LONGEST, LONGEST);
    }
    picture.apply_orientation(orientation);
    let mut jpeg = Vec::new();
    picture
        .to_rgb8()
        .write_with_encoder(JpegEncoder::new_with_quality(&mut jpeg, QUALITY))
        .map_err(unreadable)?;
    Ok(jpeg)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn png(width: u32, height: u32) -> Vec<u8> {
        let mut bytes = Vec::new();
        DynamicImage::new_rgb8(width, height)
            .write_to(&mut Cursor::new(&mut bytes), image::ImageFormat::Png)
            .unwrap();
        bytes
    }

    #[test]
    fn a_large_picture_becomes_a_small_jpeg_of_the_same_shape() {
        let jpeg = small(&png(3000, 1500)).unwrap();
        let seen = image::load_from_memory_with_format(&jpeg, image::ImageFormat::Jpeg).unwrap();
        assert_eq!((seen.width(), seen.height()), (720, 360));
    }

    #[test]
    fn what_is_no_picture_is_said_to_be_none() {
        for bytes in [&b"<svg onload=alert(1)>"[..], b"", &png(10, 10)[..40]] {
            assert!(small(bytes).is_err());
        }
    }
}
